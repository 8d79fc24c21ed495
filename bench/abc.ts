import abcjs from 'abcjs';
import { corpusTexts, tunesIn } from '../measure/abcParts/tunes.ts';
import type { MeasureTable } from '../measure/table.ts';
import { readAbc, writeAbc } from '../src/notation/index.ts';
import { notesOf } from '../src/score/index.ts';

const COMMAND = 'npm run bench -- abc';
const ROUNDS = 8;

/** The fastest of some rounds of each work, in milliseconds, turn by turn: what else the machine does hits all alike. */
const fastest = (...works: readonly (() => void)[]): readonly number[] => {
  const best = works.map(() => Number.POSITIVE_INFINITY);
  for (let round = 0; round < ROUNDS; round += 1) {
    works.forEach((work, i) => {
      const started = performance.now();
      work();
      best[i] = Math.min(best[i] ?? Number.POSITIVE_INFINITY, performance.now() - started);
    });
  }
  return best;
};

/** Reading speed a note beside abcjs (parse only), on the same tunes in the same run. */
export const table = async (): Promise<MeasureTable> => {
  const title = 'Reading ABC: speed';
  const texts = corpusTexts();
  if (texts === null) return { title, command: COMMAND, rows: [], skipped: '../shared/data/corpora' };
  const tunes = texts.flatMap(tunesIn);
  const notes = tunes.reduce((total, { tune }) => total + notesOf(tune.score).length, 0);
  const perNote = (milliseconds: number): number => Math.round((milliseconds * 1e5) / notes) / 100;
  const [ours = 0, theirs = 0, writing = 0] = fastest(
    () => tunes.forEach(({ text }) => void readAbc(text)),
    () => tunes.forEach(({ text }) => void abcjs.parseOnly(text)),
    () => tunes.forEach(({ tune }) => void writeAbc(tune.score)),
  ).map(perNote);
  return {
    title,
    command: COMMAND,
    rows: [
      { what: 'notes in the material', ours: notes, target: 'reported', holds: null },
      {
        what: 'reading a note, µs (yardstick: abcjs, parse only)',
        ours,
        target: '≤ yardstick',
        yardstick: theirs,
        holds: ours <= theirs,
      },
      { what: 'writing a note, µs', ours: writing, target: 'reported', holds: null },
    ],
  };
};
