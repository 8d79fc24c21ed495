import type { Bar, Score } from '../score/index.ts';
import type { Found } from './anchors/index.ts';
import { barWord, capital, type Words } from './words.ts';

/** The bar of a score at a place; undefined where it has none. */
export const barAt = (score: Score, at: { readonly part: string; readonly bar: number }): Bar | undefined =>
  score.parts.find(({ label }) => label === at.part)?.bars[at.bar];

/** "Bar 13", "Pick-up to part B", "Rest of a bar in part B": a bar by what is printed, to begin a line. */
export const barLabel = (part: string, bar: Pick<Bar, 'number' | 'role'>, words: Words): string => {
  if (bar.number !== null) return `${capital(barWord(words))} ${bar.number}`;
  return bar.role === 'pickup' ? `Pick-up to part ${part}` : `Rest of a ${barWord(words)} in part ${part}`;
};

/**
 * "Bar 13", "The pick-up to part B": the bar that something is attached to, to begin a sentence.
 * @param part - where it was attached, for one whose bar is gone: "A bar of part B"
 */
export const attachedLabel = (found: Found, part: string, plain: Score, words: Words): string => {
  const bar = found.kind === 'orphan' ? undefined : barAt(plain, found.anchor);
  const at = found.kind === 'orphan' ? part : found.anchor.part;
  if (bar === undefined) return `A ${barWord(words)} of part ${at}`;
  const label = barLabel(at, bar, words);
  if (bar.number !== null) return label;
  return `${bar.role === 'pickup' ? 'The' : 'A'} ${label.charAt(0).toLowerCase()}${label.slice(1)}`;
};
