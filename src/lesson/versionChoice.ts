import { DENSITIES, type Density, type PlainSwitches } from '../versions/index.ts';
import { capital } from './words.ts';

/** What a version is made of: accented notes and shape, all the notes, or the tune as written. */
export type VersionKind = 'bones' | 'plain' | 'full';

/** One version that a lesson is to have; what is left out comes from the lesson's own settings. */
export type VersionChoice = {
  /** On screen and paper; left out: the usual name. */
  readonly name?: string;
} & (
  | { readonly kind: 'bones'; readonly density?: Density }
  | ({ readonly kind: 'plain' } & Partial<PlainSwitches>)
  | { readonly kind: 'full' }
);

/** The fewest and the most versions of a lesson. Common practice: two to four. */
export const LADDER_LENGTH = { least: 2, most: 4 } as const;

/** The ladder where the teacher has said nothing. */
export const USUAL_LADDER: readonly VersionChoice[] = [
  { kind: 'bones' },
  { kind: 'plain' },
  { kind: 'full' },
];

/** Names a version within its lesson: letters, a kind first ("bones", "plain", "full", "bonesFuller"). */
export type VersionId = string;

/** What tells a version from others of its kind: "fuller" bones; null for what is usual. */
export const traitOf = (choice: VersionChoice): { readonly id: string; readonly name: string } | null => {
  if (choice.kind === 'bones' && choice.density !== undefined && choice.density !== 'usual')
    return { id: capital(choice.density), name: choice.density };
  if (choice.kind === 'plain' && choice.ornaments === 'main')
    return { id: 'Ornamented', name: 'with the main ornaments' };
  return null;
};

/** Ids of a ladder's versions: the kind alone, and what tells them apart where a kind comes more than once. */
export const idsOf = (choices: readonly VersionChoice[]): readonly VersionId[] =>
  choices.map((choice) => {
    const alone = choices.filter((c) => c.kind === choice.kind).length === 1;
    return alone ? choice.kind : `${choice.kind}${traitOf(choice)?.id ?? ''}`;
  });

/**
 * What is wrong with a list of versions, in a sentence; null when a lesson can have it.
 *
 * From simplest to fullest, two to four, no two alike.
 * @param density - of bones that do not say theirs
 */
export const ladderProblem = (choices: readonly VersionChoice[], density: Density): string | null => {
  const { least, most } = LADDER_LENGTH;
  if (choices.length < least || choices.length > most)
    return `lists ${choices.length}; a lesson has ${least} to ${most} versions.`;
  const order: readonly VersionKind[] = ['bones', 'plain', 'full'];
  const rank = (c: VersionChoice): number => order.indexOf(c.kind);
  if (choices.some((c, i) => i > 0 && rank(c) < rank(choices[i - 1] ?? c)))
    return 'goes from the simplest to the fullest: bones, then plain, then full.';
  const bones = choices.flatMap((c) => (c.kind === 'bones' ? [DENSITIES.indexOf(c.density ?? density)] : []));
  if (bones.some((step, i) => i > 0 && step <= (bones[i - 1] ?? step)))
    return 'goes from the simplest to the fullest: sparser bones before fuller ones, no two alike.';
  const ids = idsOf(choices);
  const twice = ids.find((id, i) => ids.indexOf(id) !== i);
  return twice === undefined ? null : 'has two versions that are the same.';
};
