import { countWord } from '../core/index.ts';
import { ornamentsOf, withSlurs } from '../fiddle/index.ts';
import type { Score } from '../score/index.ts';
import {
  deriveVersions,
  type Fit,
  fitOf,
  type PlainSwitches,
  plainOf,
  type VersionSettings,
  type Versions,
} from '../versions/index.ts';
import type { LessonSettings } from './settings.ts';
import {
  idsOf,
  ladderProblem,
  traitOf,
  type VersionChoice,
  type VersionId,
  type VersionKind,
} from './versionChoice.ts';
import { capital } from './words.ts';

/** A version of a lesson. */
export interface LessonVersion {
  readonly id: VersionId;
  readonly kind: VersionKind;
  /** On screen and paper: "The bones". */
  readonly name: string;
  /** What is in it, to follow its name: "every note of the tune, no ornaments". */
  readonly what: string;
  readonly score: Score;
}

/** The versions of a lesson, simplest first. */
export type Ladder = readonly [LessonVersion, ...LessonVersion[]];

/** How two neighbouring versions of a lesson go together. */
export interface NeighbourFit {
  readonly simpler: LessonVersion;
  readonly fuller: LessonVersion;
  readonly fit: Fit;
}

/** Usual names of the kinds, and what is in them. */
const KINDS: Readonly<Record<VersionKind, { readonly name: string; readonly what: string }>> = {
  bones: {
    name: 'The bones',
    what: 'the accented notes and the shape, for playing along from the first week',
  },
  plain: { name: 'All the notes', what: 'every note of the tune, no ornaments' },
  full: { name: 'Full version', what: 'with all the ornaments' },
};

/** What is in a full version when the tune has no ornaments. */
const NOT_YET = 'as it is written, without ornaments so far';

/**
 * How the tune's own three versions are made: as the first of each kind in the list asks.
 *
 * So what is said of "the bones" is true of the simplest ones.
 */
export const settingsOfVersions = (settings: LessonSettings): VersionSettings => {
  const [bones] = settings.versions.filter((v) => v.kind === 'bones');
  const [plain] = settings.versions.filter((v) => v.kind === 'plain');
  return {
    density: bones?.density ?? settings.density,
    plain: plain === undefined ? settings.plain : switchesOf(plain, settings),
  };
};

type PlainChoice = Extract<VersionChoice, { kind: 'plain' }>;

const switchesOf = (
  { kind: _kind, name: _name, ...own }: PlainChoice,
  { plain }: LessonSettings,
): Partial<PlainSwitches> => ({ ...plain, ...own });

const scoreOf = (choice: VersionChoice, versions: Versions, settings: LessonSettings): Score => {
  const first = settings.versions.find(({ kind }) => kind === choice.kind) === choice;
  if (first || choice.kind === 'full') return versions[choice.kind];
  return choice.kind === 'bones'
    ? deriveVersions(versions.full, {
        ...settingsOfVersions(settings),
        density: choice.density ?? settings.density,
      }).bones
    : withSlurs(plainOf(versions.full, switchesOf(choice, settings)), settings.slurs);
};

/** What is in a version, to follow its name. */
const whatIn = (choice: VersionChoice, settings: LessonSettings, { full }: Versions): string => {
  if (choice.kind === 'full' && ornamentsOf(full).length === 0) return NOT_YET;
  const ornaments = choice.kind === 'plain' ? (choice.ornaments ?? settings.plain.ornaments) : 'none';
  return ornaments === 'main' ? 'every note of the tune, the main ornaments' : KINDS[choice.kind].what;
};

const nameOf = (choice: VersionChoice, id: VersionId): string => {
  const { name } = KINDS[choice.kind];
  const trait = id === choice.kind ? null : traitOf(choice);
  return choice.name ?? (trait === null ? name : `${name}, ${trait.name}`);
};

/** The names of a lesson's versions, simplest first, without making them. */
export const versionNamesOf = ({ versions }: Pick<LessonSettings, 'versions'>): readonly string[] => {
  const ids = idsOf(versions);
  return versions.map((choice, i) => nameOf(choice, ids[i] ?? choice.kind));
};

/**
 * The versions of a lesson in the order of learning.
 * @param versions - the tune's own three, of which the listed ones are taken or made
 * @throws RangeError when the list is one that `ladderProblem` finds wrong
 */
export const ladderOf = (versions: Versions, settings: LessonSettings): Ladder => {
  const choices = settings.versions;
  const problem = ladderProblem(choices, settings.density);
  if (problem !== null) throw new RangeError(`The list of versions ${problem}`);
  const ids = idsOf(choices);
  const [simplest, ...others] = choices.map((choice, i): LessonVersion => {
    const id = ids[i] ?? choice.kind;
    return {
      id,
      kind: choice.kind,
      name: nameOf(choice, id),
      what: whatIn(choice, settings, versions),
      score: scoreOf(choice, versions, settings),
    };
  });
  if (simplest === undefined) throw new RangeError('A lesson needs a version.');
  return [simplest, ...others];
};

/** How each version of a ladder goes with the next one. */
export const neighbourFits = (ladder: readonly LessonVersion[]): readonly NeighbourFit[] =>
  ladder.slice(1).flatMap((fuller, i) => {
    const simpler = ladder[i];
    return simpler === undefined ? [] : [{ simpler, fuller, fit: fitOf(simpler.score, fuller.score) }];
  });

/** How some versions of a lesson go together. */
export interface GroupFit {
  readonly versions: readonly LessonVersion[];
  readonly fit: Fit;
}

/** How every two versions of a ladder go together, and all of them where they are more. */
export const groupFits = (ladder: Ladder): readonly GroupFit[] => {
  const pairs = ladder.flatMap((a, i) => ladder.slice(i + 1).map((b) => [a, b] as const));
  const fits = pairs.map(([a, b]): GroupFit => ({ versions: [a, b], fit: fitOf(a.score, b.score) }));
  const together = ladder.length > 2 ? togetherFit(ladder) : null;
  return together === null ? fits : [...fits, { versions: ladder, fit: together }];
};

/** How all versions of a ladder go together; null where there is one alone. */
export const togetherFit = (ladder: Ladder): Fit | null => {
  const [first, second, ...more] = ladder.map(({ score }) => score);
  return first === undefined || second === undefined ? null : fitOf(first, second, ...more);
};

/** How many in words, to begin a sentence: "Three". */
export const manyVersions = (count: number): string => capital(countWord(count));

/** Heading of a sheet with all of them, bar under bar. */
export const togetherName = (count: number): string =>
  count === 2 ? 'Both together' : `All ${countWord(count)} together`;
