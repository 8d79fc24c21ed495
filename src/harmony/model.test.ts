import { describe, expect, test } from 'vitest';
import type { HeardNote } from './cells.ts';
import { countChords, type LabelledSpan, type LabelledTune } from './counts.ts';
import { modelFrom, triadsOfSpans } from './index.ts';
import { triadClass } from './vocabulary.ts';

const [I, IV, V] = [triadClass(0, false), triadClass(5, false), triadClass(7, false)];
const note = (degree: number): HeardNote => ({ degree, crotchets: 1, accent: 2 });
const span = (triad: number, ...degrees: readonly number[]): LabelledSpan => ({
  triad,
  notes: degrees.map(note),
  place: 'inside',
  opensBar: true,
});
const tune: LabelledTune = {
  family: 'major',
  spans: [span(I, 0, 4), span(IV, 5, 9), span(V, 7, 11), span(I, 0, 7)],
};

describe('counts', () => {
  const counts = countChords([tune, tune]);
  test('say what began, what followed what, and what sounded under what', () => {
    expect(counts.major.first[I]).toBe(2);
    expect(counts.major.steps[IV]?.[V]).toBe(2);
    expect(counts.major.tones[2]?.[I]?.[0]).toBe(4);
    expect(counts.minor.first.every((n) => n === 0)).toBe(true);
  });
  test('are a sum over tunes, so that a fold can be left out', () => {
    const twice = countChords([tune, tune]);
    const once = countChords([tune]);
    expect(twice.major.steps.flat()).toEqual(once.major.steps.flat().map((n) => 2 * n));
  });
});

describe('the model', () => {
  const model = modelFrom(countChords([tune, tune, tune]));
  test('finds again what it was counted from', () => {
    expect(triadsOfSpans(tune.spans, 'major', model)).toEqual([I, IV, V, I]);
  });
  test('has probabilities: every row of shares sums to one', () => {
    const { steps, tones } = model.families.major;
    for (const row of [...steps, ...tones.flat()]) {
      expect(row.reduce((sum, log) => sum + Math.exp(log), 0)).toBeCloseTo(1, 9);
    }
  });
  test('is silent about a tune without spans', () => {
    expect(triadsOfSpans([], 'major', model)).toEqual([]);
  });
});
