import type { SuggestionNote } from '../lesson/index.ts';
import { SUGGESTION_DENSITIES, type SuggestionSettings } from '../versions/index.ts';
import { UsageError } from './io.ts';

/** Which ornaments a command is to suggest; null: none. */
export type Asked = SuggestionSettings | null;

/**
 * What `--suggest` and `--vary` ask for.
 * @throws UsageError where they are used wrongly
 */
export const askedFor = (suggest: string | undefined, vary: boolean): Asked => {
  if (suggest === undefined) {
    if (vary) throw new UsageError('versions: --vary goes with --suggest');
    return null;
  }
  const density = SUGGESTION_DENSITIES.find((step) => step === suggest);
  if (density === undefined)
    throw new UsageError(`versions: --suggest takes ${SUGGESTION_DENSITIES.join(', ')}`);
  return { density, secondTime: vary ? 'varied' : 'same' };
};

/** Suggestions for people, each in a line. */
export const suggestionLines = (suggestions: readonly SuggestionNote[]): readonly string[] =>
  suggestions.map((s) => `${s.place}: ${s.what}. ${s.reason} ${s.finger} ${s.bow}`);
