import { bestPath } from './bestPath.ts';
import type { ChordSpan, Family } from './counts.ts';
import { type ChordModel, melodySuits, placeSuits, stepBetween } from './model.ts';
import type { TriadClass } from './vocabulary.ts';

/**
 * Which of the 24 major and minor triads goes with each span, where the boundaries are given?
 *
 * Free of any mode's vocabulary: this is what published figures for chord finding are measured by.
 */
export const triadsOfSpans = (
  spans: readonly ChordSpan[],
  family: Family,
  model: ChordModel,
): readonly TriadClass[] => {
  const { seen } = model.families[family];
  return bestPath({
    choices: spans.map(() => seen),
    suits: (i, triad) => {
      const span = spans[i];
      if (span === undefined) return 0;
      return melodySuits(model, family, span, triad, true) + placeSuits(model, family, span, triad);
    },
    follows: (_, before, triad) => stepBetween(model, family, before, triad),
  });
};
