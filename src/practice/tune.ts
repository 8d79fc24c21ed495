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

/** An ornament and the version that has it. */
export interface ShownOrnament {
  readonly version: string;
  readonly ornament: PracticeOrnament;
}

/** The ornament at a note of the versions that are shown, the fullest first; null: none is there. */
export const ornamentAt = (data: PracticeData, state: State, note: string | null): ShownOrnament | null => {
  for (const id of state.versions.toReversed()) {
    const ornament = data.versions
      .find((v) => v.id === id)
      ?.ornaments.find(({ address: { part, bar, onset } }) => addressKey({ part, bar, onset }) === note);
    if (ornament !== undefined) return { version: id, ornament };
  }
  return null;
};
