import type { FaderGroup } from '../audio/index.ts';
import { compare } from '../core/index.ts';
import type { PracticeData, PracticeOrnament, PracticeVersion } from '../lesson/index.ts';
import { placedEvents } from '../score/index.ts';
import { type Anchor, anchorsOf } from './anchors.ts';
import { type Companion, joinedPass, type Pass, type PassBar, passOf, type SeatedNote } from './pass.ts';
import { type Round, roundOf } from './round.ts';
import { slowForm } from './slowForm.ts';

/** Ways to practise. */
export type Way = 'through' | 'climb' | 'turns' | 'others';

/** What the learner has set, as far as it is heard. */
export interface PlaySettings {
  /** Ids of the versions that are played: one, or two together. */
  readonly versions: readonly string[];
  /** Tempo in hundredths of the lesson's own. */
  readonly percent: number;
  /** Where "gradually faster" ends. */
  readonly goal: number;
  readonly swing: number | null;
  readonly countIn: boolean;
  readonly way: Way;
  /** Full bars in each turn. */
  readonly turnBars: number;
  /** Places in the played order, both included; null: the whole tune once. */
  readonly loop: { readonly from: number; readonly to: number } | null;
  readonly faders: Readonly<Record<FaderGroup, number>>;
}

/** Seed of the small differences between notes, as in the tracks. */
const VARIATION = 1;
/** Tempo rises by so much every second time. Common practice: 2–3 %. */
const CLIMB_STEP = 3;
const TIMES_EACH = 2;
/** "Everyone else" in a session is a little apart. Ours: under what is heard as two. */
const SESSION = [
  { late: 0.012, loose: 0.009 },
  { late: -0.008, loose: 0.009 },
  { late: 0.004, loose: 0.012 },
] as const;
const TOGETHER = { late: 0, loose: 0.003 } as const;
/** Passes that are remembered. */
const REMEMBERED = 24;

/** A round and what the page needs to follow it. */
export interface Known {
  readonly round: Round;
  readonly anchors: ReadonlyMap<number, readonly Anchor[]>;
  readonly percent: number;
}

/** How the tempo goes in "gradually faster": each step so many times, and one slow time to finish. */
export const climbSteps = (from: number, goal: number): readonly number[] => {
  const steps: number[] = [];
  for (let percent = from; percent < goal + CLIMB_STEP; percent += CLIMB_STEP)
    for (let time = 0; time < TIMES_EACH; time += 1) steps.push(Math.min(goal, percent));
  return [...steps, from];
};

const passMaker = (data: PracticeData) => {
  const known = new Map<string, Pass>();
  return (version: PracticeVersion, percent: number, swing: number | null): Pass => {
    const key = `${version.id} ${percent} ${swing}`;
    const found = known.get(key);
    if (found !== undefined) return found;
    const pass = passOf(version.score, {
      dance: data.dance,
      chords: data.chords,
      beatsPerMinute: (data.tempos.upToSpeed * percent) / 100,
      swing: swing ?? data.swing,
      band: data.band,
      variation: data.fiddle.variation ? VARIATION : null,
    });
    known.set(key, pass);
    for (const oldest of known.keys()) {
      if (known.size <= REMEMBERED) break;
      known.delete(oldest);
    }
    return pass;
  };
};

type PassMaker = ReturnType<typeof passMaker>;

/** The versions that sound and how: the one that is shown first, others beside it. */
const soundingPass = (
  data: PracticeData,
  settings: PlaySettings,
  percent: number,
  make: PassMaker,
): { readonly pass: Pass; readonly shown: Pass } => {
  const chosen = data.versions.filter((v) => settings.versions.includes(v.id));
  const first = chosen[0] ?? data.versions[0];
  if (first === undefined) throw new RangeError('a lesson has at least one version');
  const shown = make(first, percent, settings.swing);
  const alone = settings.way === 'others';
  const others = alone ? data.versions.filter((v) => v !== first) : chosen.slice(1);
  const companions = others.map((v, i): Companion => {
    const apart = alone ? (SESSION[i % SESSION.length] ?? TOGETHER) : TOGETHER;
    return { pass: make(v, percent, settings.swing), seat: i + 1, ...apart };
  });
  return { pass: companions.length === 0 ? shown : joinedPass(shown, companions, !alone), shown };
};

/** The pieces of an ornament as they are played in a bar. */
const piecesOf = (
  pass: Pass,
  version: PracticeVersion,
  { address, events }: PracticeOrnament,
  at: number,
): { readonly bar: PassBar | undefined; readonly pieces: readonly SeatedNote[] } => {
  const bar = pass.onward.find((b) => b.index === at);
  const written = version.score.parts.find((p) => p.label === address.part)?.bars[address.bar];
  const covered =
    written === undefined ? [] : placedEvents(written).filter((e) => compare(e.onset, address.onset) >= 0);
  const onsets = covered.slice(0, Math.max(1, events)).map((e) => e.onset);
  const pieces = (bar?.notes ?? []).filter(
    (n) =>
      n.voice === 'fiddle' &&
      n.address !== undefined &&
      onsets.some((o) => n.address !== undefined && compare(o, n.address.onset) === 0),
  );
  return { bar, pieces };
};

/** The round once, to its end. */
export const onceOf = (known: Known): Known => ({ ...known, round: { ...known.round, again: null } });

/** Only what goes round, without what led into it. */
export const bodyOf = (known: Known): Known => {
  const { bars, again } = known.round;
  return { ...known, round: { bars: bars.slice(again ?? 0), again: again === null ? null : 0 } };
};

/** What led in and the first time round, to its end. */
export const firstTimeOf = (known: Known): Known => {
  const { bars, again } = known.round;
  return onceOf({
    ...known,
    round: { bars: again === null || again === 0 ? bars : bars.slice(0, again), again },
  });
};

/** Makes rounds of a lesson from what the learner has set. */
export interface RoundMaker {
  /**
   * The bars to play.
   * @param percent - tempo, which may differ from the one that is set
   * @param at - begins at this place of the played order; null: at the start, or the loop's
   */
  readonly make: (settings: PlaySettings, percent: number, at: number | null, countIn: boolean) => Known;
  /** An ornament opened out, twice, then its bar; null where it is not played. */
  readonly explained: (
    settings: PlaySettings,
    version: string,
    ornament: PracticeOrnament,
    at: number,
  ) => Known | null;
}

/** Makes a maker of rounds, which remembers what it has worked out. */
export const roundMakerOf = (data: PracticeData): RoundMaker => {
  const make = passMaker(data);
  return {
    make: (settings, percent, at, countIn) => {
      const { pass, shown } = soundingPass(data, settings, percent, make);
      const loop = settings.loop !== null || settings.way === 'climb';
      const range = settings.loop ?? { from: 0, to: shown.ending.index };
      const inside = at !== null && at >= range.from && at <= range.to;
      const plan = loop
        ? { ...range, startAt: inside && at !== range.from ? at : null }
        : { from: inside ? at : range.from, to: range.to, startAt: null };
      const turns = settings.way === 'turns' ? settings.turnBars : null;
      return { round: roundOf(pass, { ...plan, loop, turns, countIn }), anchors: anchorsOf(shown), percent };
    },
    explained: (settings, version, ornament, at) => {
      const chosen = data.versions.find((v) => v.id === version);
      if (chosen === undefined) return null;
      const { percent, swing } = settings;
      const pass = make(chosen, percent, swing);
      const { bar, pieces } = piecesOf(pass, chosen, ornament, at);
      if (bar === undefined || pieces.length === 0) return null;
      const slow = slowForm(pieces);
      return { round: { bars: [slow, slow, bar], again: null }, anchors: anchorsOf(pass), percent };
    },
  };
};

/** Whether only faders or what comes first differ. */
export const soundsAlike = (a: PlaySettings, b: PlaySettings): boolean =>
  a.percent === b.percent &&
  a.goal === b.goal &&
  a.swing === b.swing &&
  a.way === b.way &&
  a.turnBars === b.turnBars &&
  a.loop?.from === b.loop?.from &&
  a.loop?.to === b.loop?.to &&
  a.versions.join() === b.versions.join();
