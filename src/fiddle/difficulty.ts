import { toNumber, type WholeNotes } from '../core/index.ts';
import type { Dance } from '../music/index.ts';
import { type Bar, barsOf, type Score, writtenLengthOf } from '../score/index.ts';
import { bowedBarsOf } from './bowedBars.ts';
import { type DifficultyWord, ORNAMENT_WORK, WORDS_FROM, WORK } from './difficultyData.ts';
import type { FingeringOptions } from './fingering.ts';
import { gripFinder } from './grips.ts';
import { leftHandWork, struckIn } from './leftHandWork.ts';
import { ornamentsOf } from './ornaments.ts';
import { danceOfScore } from './runningUnit.ts';
import { STANDARD_TUNING } from './tuning.ts';

/** For which pace and hands a tune is judged. */
export interface DifficultyOptions extends FingeringOptions {
  /**
   * The dance of the tune as written, to judge all its versions at one pace; judged from the version itself when absent
   * (bones without running notes may then pass for another dance).
   */
  readonly dance?: Dance;
  /** Beats of the dance a minute; its `steady` tempo when absent. */
  readonly beatsPerMinute?: number;
}

/** What makes a bar's work, each a second, in struck notes' worth. */
export interface WorkParts {
  readonly notes: number;
  readonly crossings: number;
  /** Fourth fingers, stretches, higher positions. */
  readonly fingers: number;
  /** One finger for two places in a row. */
  readonly awkward: number;
  readonly ornaments: number;
  /** Slurs, and an odd number of strokes. */
  readonly bow: number;
}

/** How hard one bar is. */
export interface BarDifficulty {
  readonly part: string;
  readonly bar: number;
  /** The sum of its parts: work a second. */
  readonly work: number;
  readonly parts: WorkParts;
  readonly word: DifficultyWord;
}

/** How hard a version is, on the same scale as its bars. */
export interface Difficulty {
  /** Every written bar, pick-ups included. */
  readonly bars: readonly BarDifficulty[];
  /** Work a second over the whole, every bar by its length, leaning towards the hardest bar. */
  readonly work: number;
  readonly word: DifficultyWord;
  /** Index in `bars`; null for a tune without notes. */
  readonly hardest: number | null;
}

/** How much the hardest bar counts in the whole: a tune is as hard as it is on the whole, and a little as its hardest place. Ours. */
const HARDEST_SHARE = 0.25;

const wordFor = (work: number): DifficultyWord =>
  WORDS_FROM.find(([from]) => work >= from)?.[1] ?? 'very easy';

type Mutable = { -readonly [K in keyof WorkParts]: WorkParts[K] };
const nothing = (): Mutable => ({ notes: 0, crossings: 0, fingers: 0, awkward: 0, ornaments: 0, bow: 0 });
const slursIn = (bar: Bar): number =>
  bar.events.reduce((n, e) => n + (e.kind === 'note' ? e.slurs.opens : 0), 0);

const keyOfBar = (at: { readonly part: string; readonly bar: number }): string => `${at.bar}/${at.part}`;

/** The work in every bar, whatever its time. */
const workByBar = (score: Score, options: DifficultyOptions): ReadonlyMap<string, Mutable> => {
  const work = new Map<string, Mutable>();
  const gripsFor = gripFinder(options.tuning ?? STANDARD_TUNING, options.highestPosition ?? 1);
  let carried = false;
  for (const placed of barsOf(score)) {
    const left = leftHandWork(struckIn(placed.bar, carried), gripsFor);
    work.set(keyOfBar({ part: placed.part, bar: placed.index }), { ...nothing(), ...left });
    const last = placed.bar.events.at(-1);
    carried = last?.kind === 'note' && last.tiedToNext;
  }
  const at = (place: { readonly part: string; readonly bar: number }): Mutable =>
    work.get(keyOfBar(place)) ?? nothing();
  for (const ornament of ornamentsOf(score)) at(ornament.address).ornaments += ORNAMENT_WORK[ornament.kind];
  for (const bar of barsOf(score)) at({ part: bar.part, bar: bar.index }).bow += WORK.slur * slursIn(bar.bar);
  for (const bowed of bowedBarsOf(score)) {
    if (bowed.opens === 'carried') at(bowed).bow += WORK.slur;
    if (bowed.strokes % 2 === 1) at(bowed).bow += WORK.turnsBow;
  }
  return work;
};

const perSecond = (parts: WorkParts, time: number): WorkParts => ({
  notes: parts.notes / time,
  crossings: parts.crossings / time,
  fingers: parts.fingers / time,
  awkward: parts.awkward / time,
  ornaments: parts.ornaments / time,
  bow: parts.bow / time,
});

const total = (parts: WorkParts): number =>
  parts.notes + parts.crossings + parts.fingers + parts.awkward + parts.ornaments + parts.bow;

/**
 * How hard is this version for the hands, bar by bar and as a whole?
 *
 * One scale: the work of a bar (struck notes, string crossings, fingers, awkward places, ornaments, bow) by the time that
 * there is for it. At one tempo a version that leaves out notes, slurs or ornaments of another is not harder.
 * @throws RangeError when the tempo is not above 0
 */
export const difficultyOf = (score: Score, options: DifficultyOptions = {}): Difficulty => {
  const dance = options.dance ?? danceOfScore(score);
  const pace = options.beatsPerMinute ?? dance.tempo.steady;
  if (!(pace > 0)) throw new RangeError(`difficultyOf: ${pace} beats a minute; must be above 0`);
  const timeOf = (length: WholeNotes): number => ((toNumber(length) / toNumber(dance.beat)) * 60) / pace;
  const work = workByBar(score, options);
  const placed = barsOf(score);
  const times = placed.map(({ bar }) => timeOf(writtenLengthOf(bar)));
  const bars = placed.map(({ part, index }, i): BarDifficulty => {
    const time = times[i] ?? 0;
    const own = work.get(keyOfBar({ part, bar: index })) ?? nothing();
    const parts = time > 0 ? perSecond(own, time) : nothing();
    return { part, bar: index, work: total(parts), parts, word: wordFor(total(parts)) };
  });
  const time = times.reduce((a, b) => a + b, 0);
  const mean = time > 0 ? bars.reduce((sum, bar, i) => sum + bar.work * (times[i] ?? 0), 0) / time : 0;
  const full = bars.map((bar, i) => (placed[i]?.bar.role === 'full' ? bar.work : 0));
  const most = Math.max(0, ...full);
  const whole = most > 0 ? (1 - HARDEST_SHARE) * mean + HARDEST_SHARE * most : mean;
  return { bars, work: whole, word: wordFor(whole), hardest: most > 0 ? full.indexOf(most) : null };
};
