import { z } from 'zod';
import { buildState } from './pack.ts';

/** One set as "My lessons" lists it. */
const setCard = z.object({
  /** Names the set in addresses: its file's name without ".json". */
  id: z.string(),
  title: z.string(),
  /** Titles of its tunes, in the order of playing. */
  tunes: z.array(z.string()),
  /** Why it cannot be played as it is; null: it can. */
  problem: z.string().nullable(),
  /** Whether a pack of it lies there. */
  hasPack: z.boolean(),
});

/** The sets of the shelf: answer to `GET /api/sets`. */
export const setsAnswer = z.object({ sets: z.array(setCard) });
/** The sets of the shelf. */
export type SetsAnswer = z.infer<typeof setsAnswer>;

const beatsPerMinute = z.number().min(10).max(400);

/** What the teacher decides about one tune of a set; null where the lesson's own holds. */
const tuneWish = z.object({
  /** The lesson's id. */
  lesson: z.string().min(1).max(255),
  times: z.int().min(1).max(9),
  /** Beats a minute in the dance's beat. */
  steady: beatsPerMinute.nullable(),
  upToSpeed: beatsPerMinute.nullable(),
  /** The chord that leads to the next tune, "D7"; null: one is found. */
  turn: z.string().min(1).max(12).nullable(),
});

/** What the teacher decides about a set. */
const setWish = z.object({
  /** Empty: the titles of the tunes. */
  title: z.string().trim().max(200),
  /** What is printed and played; null: each lesson's fullest version. */
  plays: z.string().min(1).max(40).nullable(),
  tunes: z.array(tuneWish).min(2).max(4),
});
/** What the teacher decides about a set. */
export type SetWish = z.infer<typeof setWish>;

/** Makes a set of lessons, or saves one: `POST /api/sets`, `PUT /api/sets/ID`. */
export const newSet = z.object({ wish: setWish });
/** Saves a set. */
export const saveSet = newSet.extend({
  /** The revision that it was changed from. */
  base: z.string(),
});

/** The set that was made. */
export const madeSet = z.object({ id: z.string() });

/** One tune of a set as it is played there. */
const tuneShown = z.object({
  title: z.string(),
  /** "reel in G major"; empty where the lesson cannot be read. */
  about: z.string(),
  /** What is played where the teacher says nothing, and in which beat: "minim = 80". */
  usual: z.object({ steady: z.number(), upToSpeed: z.number(), beat: z.string() }).nullable(),
  /** How it goes over into the next, in sentences; none behind the last one. */
  corner: z.array(z.string()),
});

/** A set as it stands: answer to `GET /api/sets/ID`. */
export const setAnswer = z.object({
  id: z.string(),
  revision: z.string(),
  /** As its sheet names it. */
  title: z.string(),
  wish: setWish,
  tunes: z.array(tuneShown),
  /** Versions that all its lessons have. */
  versions: z.array(z.object({ id: z.string(), name: z.string() })),
  /** Why it cannot be played as it is, in sentences. */
  problems: z.array(z.string()),
  /** How long it takes up to speed, in seconds; null where it cannot be played. */
  seconds: z.number().nullable(),
  build: buildState,
  /** Files of its pack: `GET /files/sets/ID/pack/PATH`, all of it at `/files/sets/ID/zip`. */
  files: z.array(z.object({ path: z.string(), what: z.string() })),
  /** The pack was made from the set and the lessons as they are now. */
  isCurrent: z.boolean(),
  /** Where the pack lies, as the user would name it. */
  folder: z.string(),
});
/** A set as it stands. */
export type SetAnswer = z.infer<typeof setAnswer>;

/** The pictures of a corner as SVG: answer to `GET /api/sets/ID/corners/N`. Its sound: `…/N/sound`. */
export const cornerAnswer = z.object({ pictures: z.array(z.string()) });
/** The pictures of a corner. */
export type CornerAnswer = z.infer<typeof cornerAnswer>;
