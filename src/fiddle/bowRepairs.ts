import { printedName } from '../music/index.ts';
import type { Address, Score } from '../score/index.ts';
import { danceOfScore, hasOddBeats, runningUnitOf } from './runningUnit.ts';
import { siteCost } from './slurSites.ts';
import { type StrokeChange, withStrokeChanges } from './strokeChanges.ts';
import { bestStrokes, type ChosenStroke } from './strokes.ts';

/** One proposal so that a bar opens with a down-bow: two notes in one bow, or the down-bow taken again. */
export interface BowRepair {
  readonly kind: 'slur' | 'retake';
  /** The first note of the slur; the note on which the bow is set again. */
  readonly at: Address;
  /** The second note of the slur; the same as `at` for a bow set again. */
  readonly to: Address;
  /** What to do and why, in one sentence. */
  readonly reason: string;
}

/** What a remedy costs against a bar that is left to open up. Ours: tuned on the shared corpora for few and natural ones. */
const COST = { opensUp: 1.5, opensUpByMetre: 0.2, retake: 1.1 } as const;

const barName = ({ spot }: ChosenStroke): string =>
  spot.bar.number === null ? 'the bar' : `bar ${spot.bar.number}`;

const repairOf = (stroke: ChosenStroke, before: ChosenStroke | undefined): readonly BowRepair[] => {
  const { spot, how } = stroke;
  if (how === 'retaken')
    return [
      {
        kind: 'retake',
        at: spot.address,
        to: spot.address,
        reason: `Lift the bow and begin ${barName(stroke)} with a down-bow again: the strokes before it are odd.`,
      },
    ];
  if (how !== 'joined' || before === undefined) return [];
  const [a, b] = [before, stroke].map((s) => printedName(s.spot.note.pitches[0]));
  return [
    {
      kind: 'slur',
      at: before.spot.address,
      to: spot.address,
      reason: `Slur ${a}–${b} in ${barName(stroke)}: with an even number of strokes the next bar opens down.`,
    },
  ];
};

/**
 * What would make the bars open with a down-bow, where the written slurs leave an odd number of strokes?
 *
 * Proposals only: nothing is changed. Slurs over two running notes, on a beat where that can be, else a down-bow taken
 * again; as few as can be. Bars of three beats are left to alternate.
 * @returns in written order
 * @see Source: a full bar starts down 1,139 : 116, Ryan's Mammoth Collection 1883 as counted
 */
export const bowRepairsOf = (score: Score): readonly BowRepair[] => {
  const dance = danceOfScore(score);
  const running = runningUnitOf(dance, score.metre);
  const opensUp = hasOddBeats(score) ? COST.opensUpByMetre : COST.opensUp;
  return score.parts.flatMap((part) => {
    const strokes = bestStrokes(part, dance.beat, {
      joint: (from, to) => ({ cost: siteCost(from, to, dance.beat, running), wanted: false }),
      opensUp,
      retake: COST.retake,
    });
    return strokes.flatMap((stroke, i) => repairOf(stroke, strokes[i - 1]));
  });
};

/** The score with repairs that were accepted written into it. */
export const withBowRepairs = (score: Score, repairs: readonly BowRepair[]): Score =>
  withStrokeChanges(
    score,
    repairs.map(
      ({ kind, at, to }): StrokeChange =>
        kind === 'slur' ? { kind, at, to } : { kind: 'bow', at, bow: 'down' },
    ),
  );
