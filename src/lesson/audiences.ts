/** Whom a part of a pack is for; each of the first three gets what those before it get, `teacher` is handed to nobody. */
export const AUDIENCES = ['public', 'subscribers', 'supporters', 'teacher'] as const;
/** Whom a part of a pack is for. */
export type Audience = (typeof AUDIENCES)[number];

/** Those that a teacher hands a parcel to, the one with the least first. */
export const GROUPS = ['public', 'subscribers', 'supporters'] as const satisfies readonly Audience[];
/** Those that a teacher hands a parcel to. */
export type Group = (typeof GROUPS)[number];

/** A group as people call it: "for everybody", "for subscribers". */
export const groupWord = (group: Group): string => (group === 'public' ? 'everybody' : group);

/** Whom parts of a pack are for: by a part's id ("track/bones-to-learn-bare"), or by the beginning of ids ("track"). */
export type AudienceChoice = Readonly<Record<string, Audience>>;

/**
 * What is for whom where the teacher has not said so. Ours: one sheet for everybody to try the tune with; what one
 * learns from for subscribers; drawn pages and files for other programs for supporters.
 */
const USUAL: AudienceChoice = {
  sheet: 'subscribers',
  'sheet/plain': 'public',
  page: 'supporters',
  track: 'subscribers',
  text: 'supporters',
  'text/description': 'public',
  'text/practice': 'subscribers',
  'text/notes': 'subscribers',
  'text/runningOrder': 'teacher',
  'text/chapters': 'teacher',
};

/** The entry of the longest beginning of an id: whole words between strokes count. */
const entryFor = (choice: AudienceChoice, id: string): Audience | undefined => {
  const words = id.split('/');
  for (let n = words.length; n > 0; n -= 1) {
    const beginning = words.slice(0, n).join('/');
    if (Object.hasOwn(choice, beginning)) return choice[beginning];
  }
  return undefined;
};

/**
 * Whom a part of a pack is for.
 *
 * What the teacher has said of the part, or of a beginning of its id, comes before what is usual.
 * @param id - of a part, see the pack's `partsOf`
 * @example audienceOf({ track: 'supporters' }, 'track/full-steady-with-backing') // supporters
 */
export const audienceOf = (choice: AudienceChoice, id: string): Audience =>
  entryFor(choice, id) ?? entryFor(USUAL, id) ?? 'teacher';

/** Whether a group gets a part of the pack: its own and all that those before it get. */
export const isFor = (group: Group, audience: Audience): boolean =>
  audience !== 'teacher' && GROUPS.indexOf(audience) <= GROUPS.indexOf(group);
