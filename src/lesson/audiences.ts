/** Whom a part of a pack is for; each of the first three gets what those before it get, `teacher` is handed to nobody. */
export const AUDIENCES = ['public', 'subscribers', 'supporters', 'teacher'] as const;
/** Whom a part of a pack is for. */
export type Audience = (typeof AUDIENCES)[number];

/** Whom parts of a pack are for: by a part's id ("track/bones-to-learn-bare"), or by the beginning of ids ("track"). */
export type AudienceChoice = Readonly<Record<string, Audience>>;
