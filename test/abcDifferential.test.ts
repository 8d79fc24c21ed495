import { describe, expect, test } from 'vitest';
import { type Classified, classifiedDifferences, DIFFERENCE_CLASSES } from '../measure/abcParts/classes.ts';
import { exampleTexts } from '../measure/abcParts/examples.ts';
import { corpusTexts, tunesIn } from '../measure/abcParts/tunes.ts';
import { readAbc, writeAbc } from '../src/notation/index.ts';
import { notesOf } from '../src/score/index.ts';

/** How a difference reads in a failing test. */
const shown = ({ tune, difference: d }: Classified): string =>
  `${tune} at ${d.at}: ${d.kind}, ours ${d.ours}, theirs ${d.theirs}`;

const shared = corpusTexts();

// Every difference from abcjs (parse only) must be explained by a paragraph of the standard, and none may be ours to mend.
describe.each([
  { material: 'our own examples', texts: exampleTexts() },
  { material: 'the shared corpora', texts: shared },
])('readings of $material', ({ texts }) => {
  test.skipIf(texts === null)('differ from abcjs only where the standard says so', () => {
    const tunes = (texts ?? []).flatMap(tunesIn);
    expect(tunes.length).toBeGreaterThan(50);
    const differences = tunes.flatMap(classifiedDifferences);
    expect(differences.length).toBeGreaterThan(10);
    expect(differences.filter((d) => d.class === null).map(shown)).toEqual([]);
    expect(differences.filter((d) => d.class?.right === 'theirs').map(shown)).toEqual([]);
  });
});

test('every class of differences has its paragraph and its case', () => {
  const found = new Set(
    [...exampleTexts(), ...(shared ?? [])]
      .flatMap(tunesIn)
      .flatMap((t) => classifiedDifferences(t).map((d) => d.class)),
  );
  if (shared !== null) expect(DIFFERENCE_CLASSES.filter((c) => !found.has(c)).map((c) => c.name)).toEqual([]);
  expect(DIFFERENCE_CLASSES.every((c) => c.paragraph !== '' && c.why !== '')).toBe(true);
});

test.skipIf(shared === null)('every shared tune has notes and reads back the same after writing', () => {
  const tunes = (shared ?? []).flatMap(tunesIn);
  expect(tunes.length).toBeGreaterThan(1500);
  for (const { name, tune } of tunes) {
    expect(notesOf(tune.score).length, name).toBeGreaterThan(0);
    expect(readAbc(writeAbc(tune.score)).tunes[0]?.score, name).toEqual(tune.score);
  }
});
