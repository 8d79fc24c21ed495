import { deepStrictEqual } from 'node:assert';
import { readAbc, writeAbc } from '../src/notation/index.ts';
import { notesOf } from '../src/score/index.ts';
import { classifiedDifferences, DIFFERENCE_CLASSES } from './abcParts/classes.ts';
import { exampleTexts } from './abcParts/examples.ts';
import { corpusTexts, type TextedTune, tunesIn } from './abcParts/tunes.ts';
import type { MeasureRow, MeasureTable } from './table.ts';

const COMMAND = 'npm run measure -- abc';

const readsBack = ({ tune }: TextedTune): boolean => {
  try {
    deepStrictEqual(readAbc(writeAbc(tune.score)).tunes[0]?.score, tune.score);
    return true;
  } catch {
    return false;
  }
};

const differenceRows = (tunes: readonly TextedTune[]): readonly MeasureRow[] => {
  const found = tunes.flatMap(classifiedDifferences);
  const unexplained = found.filter((d) => d.class === null).length;
  const ours = found.filter((d) => d.class?.right === 'theirs').length;
  return [
    {
      what: 'differences from abcjs without a class',
      ours: unexplained,
      target: '0',
      holds: unexplained === 0,
    },
    { what: 'differences in which abcjs is right', ours, target: '0', holds: ours === 0 },
    ...DIFFERENCE_CLASSES.map(({ name, paragraph, right }): MeasureRow => {
      const these = found.filter((d) => d.class?.name === name);
      const places = new Set(these.map((d) => d.tune)).size;
      return {
        what: `${name}: ABC 2.1, ${paragraph}; right: ${right}`,
        ours: `${these.length} in ${places} tunes`,
        target: 'reported',
        holds: null,
      };
    }),
  ];
};

/** What the reader makes of the shared corpora and of our own examples, beside abcjs (parse only). */
export const table = async (): Promise<MeasureTable> => {
  const texts = corpusTexts();
  const title = 'Reading and writing ABC';
  if (texts === null) return { title, command: COMMAND, rows: [], skipped: '../shared/data/corpora' };
  const tunes = texts.flatMap(tunesIn);
  const count = (severity: string): number =>
    tunes.filter(({ tune }) => tune.diagnostics.some((d) => d.severity === severity)).length;
  const empty = tunes.filter(({ tune }) => notesOf(tune.score).length === 0).length;
  const back = tunes.filter(readsBack).length;
  return {
    title,
    command: COMMAND,
    rows: [
      { what: 'tunes read', ours: tunes.length, target: 'reported', holds: null },
      { what: 'tunes without a note', ours: empty, target: 'reported', holds: null },
      { what: 'tunes with errors', ours: count('error'), target: 'reported', holds: null },
      { what: 'tunes with warnings', ours: count('warning'), target: 'reported', holds: null },
      {
        what: 'share that reads back the same after writing',
        ours: back / tunes.length,
        target: '1',
        holds: back === tunes.length,
      },
      ...differenceRows([...tunes, ...exampleTexts().flatMap(tunesIn)]),
    ],
  };
};
