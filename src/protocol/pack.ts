import { z } from 'zod';

/** Groups that are handed parts of a pack. Whoever is given more is given the rest as well. */
export const GROUPS = ['public', 'subscribers', 'supporters'] as const;
/** A group that is handed parts of a pack. */
export type Group = (typeof GROUPS)[number];
/** Whom a part is for: a group, or the teacher alone. */
export const AUDIENCES = [...GROUPS, 'teacher'] as const;
/** Whom a part is for. */
export type Audience = (typeof AUDIENCES)[number];

/** One part of a pack: what is built and opened as one thing. */
const packPart = z.object({
  id: z.string(),
  /** "sheet: The bones, A4". */
  what: z.string(),
  kind: z.enum(['sheet', 'page', 'track', 'text']),
  /** Its files, relative to the pack: `GET /files/ID/pack/PATH`. */
  paths: z.array(z.string()),
  state: z.enum(['missing', 'current', 'outOfDate', 'changedByHand']),
  audience: z.enum(AUDIENCES),
  /** About how long it takes to make on this computer when several are made. */
  seconds: z.number(),
});
/** One part of a pack. */
export type PackPart = z.infer<typeof packPart>;

/** How a build stands. */
export const buildState = z.discriminatedUnion('kind', [
  z.object({ kind: z.literal('idle') }),
  z.object({
    kind: z.literal('building'),
    /** 0…1. */
    fraction: z.number(),
    /** What is being made. */
    what: z.string(),
    /** Null: nobody can tell yet. */
    secondsLeft: z.number().nullable(),
  }),
  z.object({ kind: z.literal('done'), bytes: z.int(), failed: z.array(z.string()) }),
  z.object({ kind: z.literal('stopped') }),
  z.object({ kind: z.literal('failed'), message: z.string() }),
]);
/** How a build stands. */
export type BuildState = z.infer<typeof buildState>;

/** A lesson's pack: answer to `GET /api/lessons/ID/pack`. Zips: `GET /files/ID/zip/GROUP`, all of it at `/files/ID/zip/all`. */
export const packAnswer = z.object({
  parts: z.array(packPart),
  build: buildState,
  /** Where the pack lies, as the user would name it. */
  folder: z.string(),
});
/** A lesson's pack. */
export type PackAnswer = z.infer<typeof packAnswer>;

/** Builds parts of a pack: `POST /api/lessons/ID/pack`. `DELETE` at the same address stops it. */
export const buildRequest = z.object({ parts: z.array(z.string()).min(1).max(500) });

/** A letter's draft: answer to `GET /api/lessons/ID/letter/GROUP`. */
export const letterAnswer = z.object({ text: z.string() });
