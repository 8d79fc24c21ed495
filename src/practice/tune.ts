import { compare } from '../core/index.ts';
import type { PracticeData, PracticeOrnament } from '../lesson/index.ts';
import type { PlaySettings } from '../player/index.ts';
import { addressKey, barsOf, playedOrder } from '../score/index.ts';
import type { BarNumbers } from './placeLink.ts';
import type { State } from './state.ts';
import type { Wording } from './words.ts';

/** The tune as the page sees it: its written bars and where they come in playing. */
export interface Tune {
  readonly bars: ReturnType<typeof barsOf>;
  readonly numbers: BarNumbers;
  readonly nameOfBar: (bar: number) => string;
  /** First place in the played order of a written bar, from a place on where there is one. */
  readonly placeOf: (bar: number, from: number) => number;
}

/** The tune of a lesson. */
export const tuneOf = (data: PracticeData, words: Wording): Tune => {
  const score = data.versions[0]?.score;
  if (score === undefined) throw new RangeError('a lesson has at least one version');
  const bars = barsOf(score);
  const order = playedOrder(score);
  const nameOfBar = (bar: number): string => {
    const placed = bars[bar];
    if (placed === undefined) return '';
    if (placed.bar.number !== null) return words.bar(String(placed.bar.number));
    return placed.bar.role === 'pickup' ? words.pickup(placed.part) : words.restOfBar(placed.part);
  };
  return {
    bars,
    numbers: bars.map((b) => b.bar.number),
    nameOfBar,
    placeOf: (bar, from) => {
      const placed = bars[bar];
      const is = (at: number): boolean =>
        order[at]?.part === placed?.part && order[at]?.bar === placed?.index;
      const places = order.map((_, at) => at).filter(is);
      return places.find((p) => p >= from) ?? places[0] ?? 0;
    },
  };
};

/** What is heard of a state. */
export const playSettingsOf = (state: State, tune: Tune): PlaySettings => {
  const from = state.loop === null ? 0 : tune.placeOf(state.loop.from, 0);
  return {
    versions: state.versions,
    percent: state.percent,
    goal: Math.max(state.goal, state.percent),
    swing: state.swing,
    countIn: state.countIn,
    way: state.way,
    turnBars: state.turnBars,
    loop: state.loop === null ? null : { from, to: Math.max(from, tune.placeOf(state.loop.to, from)) },
    faders: { fiddle: state.fiddle, backing: state.backing, click: state.click },
  };
};

/** An ornament, the version that has it, and its written bar, counted through all parts. */
export interface ShownOrnament {
  readonly version: string;
  readonly ornament: PracticeOrnament;
  readonly bar: number;
}

/** The key of the note that an ornament begins with. */
const noteOf = ({ address: { part, bar, onset } }: PracticeOrnament): string =>
  addressKey({ part, bar, onset });

/** The ornaments of the versions that are shown, in the order of the tune; of two on one note the fuller version's. */
export const ornamentsShown = (
  data: PracticeData,
  state: State,
  { bars }: Tune,
): readonly ShownOrnament[] => {
  const found = new Map<string, ShownOrnament>();
  for (const version of state.versions.toReversed())
    for (const ornament of data.versions.find((v) => v.id === version)?.ornaments ?? []) {
      const { part, bar } = ornament.address;
      const at = bars.findIndex((b) => b.part === part && b.index === bar);
      if (!found.has(noteOf(ornament))) found.set(noteOf(ornament), { version, ornament, bar: at });
    }
  return [...found.values()].toSorted(
    (a, b) => a.bar - b.bar || compare(a.ornament.address.onset, b.ornament.address.onset),
  );
};

/** The ornament that begins at a note; undefined: none does. */
export const ornamentAt = (shown: readonly ShownOrnament[], note: string | null): ShownOrnament | undefined =>
  shown.find(({ ornament }) => noteOf(ornament) === note);
