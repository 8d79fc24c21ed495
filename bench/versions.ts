import { readFileSync } from 'node:fs';
import abcjs from 'abcjs';
import type { MeasureTable } from '../measure/table.ts';
import { bowingOf, difficultyOf, fingeringOf } from '../src/fiddle/index.ts';
import { chordPlanOf } from '../src/harmony/index.ts';
import { barCounts, DEFAULT_SETTINGS, lessonOf } from '../src/lesson/index.ts';
import { readAbc } from '../src/notation/index.ts';
import type { Score } from '../src/score/index.ts';
import { bonesChoicesOf, deriveVersions, fitOf, type Versions } from '../src/versions/index.ts';

const TUNE = new URL('../demo/lessons/the-lantern-at-hollin-quay/tune.abc', import.meta.url);
/** Rounds before the clock counts: the engine has compiled what runs often by then. */
const WARM_UP = 40;
const ROUNDS = 40;
/** The most that all of ours may take, in times of the yardstick. */
const MOST = 12;

/**
 * Processor time of this process so far, in milliseconds, collecting waste included. Not the time that goes by: on a
 * busy machine a work that is longer than a turn of the processor is always interrupted, a short one is not.
 */
const clock = (): number => {
  const { user, system } = process.cpuUsage();
  return (user + system) / 1000;
};

/** The fastest round of each work, in milliseconds, turn by turn: what else the machine does hits all alike. */
const fastest = (works: readonly (() => void)[]): readonly number[] => {
  const best = works.map(() => Number.POSITIVE_INFINITY);
  for (let round = 0; round < WARM_UP + ROUNDS; round += 1) {
    works.forEach((work, i) => {
      const started = clock();
      work();
      const took = clock() - started;
      if (round >= WARM_UP) best[i] = Math.min(best[i] ?? took, took);
    });
  }
  return best;
};

const hands = (score: Score): void => {
  fingeringOf(score);
  bowingOf(score);
  difficultyOf(score);
};

const fits = ({ bones, plain, full }: Versions): void => {
  fitOf(bones, plain);
  fitOf(plain, full);
  fitOf(bones, plain, full);
};

/** How long do versions, choices, hands, chords and fit of a reel take, beside abcjs reading the same tune? */
export const table = async (): Promise<MeasureTable> => {
  const text = readFileSync(TUNE, 'utf8');
  const score = readAbc(text).tunes[0]?.score;
  if (score === undefined) throw new Error('the demo lesson has no tune');
  const versions = deriveVersions(score);
  const { bones, plain, full } = versions;
  const all = (): void => {
    const made = deriveVersions(score);
    bonesChoicesOf(made.plain, made.bones);
    for (const version of [made.bones, made.plain, made.full]) hands(version);
    chordPlanOf(score);
    fits(made);
  };
  const { played } = barCounts(lessonOf(score, { ...DEFAULT_SETTINGS, date: '' }));
  const [theirs = 0, ours = 0, ...pieces] = fastest([
    () => void abcjs.parseOnly(text),
    all,
    () => void deriveVersions(score),
    () => void bonesChoicesOf(plain, bones),
    () => [bones, plain, full].forEach(hands),
    () => void chordPlanOf(score),
    () => fits(versions),
  ]);
  const names = ['the versions', 'choices for each bar', 'hands for all three', 'chords', 'fit'];
  const shown = (milliseconds: number): number => Math.round(milliseconds * 100) / 100;
  const times = (milliseconds: number): number => Math.round((milliseconds / theirs) * 10) / 10;
  return {
    title: `Speed of versions and hands: a reel of ${played} bars as played, warm`,
    command: 'npm run bench -- versions',
    rows: [
      {
        what: 'versions, choices, hands, chords and fit, ms (yardstick: abcjs, parse only)',
        ours: shown(ours),
        target: `≤ ${MOST}× yardstick`,
        yardstick: `${shown(theirs)} (${times(ours)}×)`,
        holds: ours <= MOST * theirs,
      },
      ...pieces.map((piece, i) => ({
        what: `of this: ${names[i]}, ms`,
        ours: shown(piece),
        target: 'reported',
        yardstick: `${times(piece)}×`,
        holds: null,
      })),
    ],
  };
};
