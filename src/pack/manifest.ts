import { z } from 'zod';

/** Names the form of a pack's manifest.json. */
export const PACK_FORMAT = 'tuneladder-pack';
/** The version of that form which is written. */
export const PACK_VERSION = 1;

const manifestFile = z.object({
  path: z.string(),
  /** What it is, in words. */
  what: z.string(),
  bytes: z.int().min(0),
  sha256: z.string(),
  /** The part that it belongs to, see `partsOf`; packs of earlier programs don't say. */
  part: z.string().optional(),
  /** SHA-256 of what it was made from, see `inputsOf`. */
  input: z.string().optional(),
  /** `old`: made by an earlier run and kept, because this run could not make it anew. */
  state: z.enum(['new', 'old']),
});

const manifest = z.object({
  format: z.literal(PACK_FORMAT),
  version: z.literal(PACK_VERSION),
  title: z.string(),
  teacher: z.string(),
  date: z.string(),
  files: z.array(manifestFile),
  /** What this run could not make, and why. */
  failed: z.array(
    z.object({
      part: z.string().optional(),
      what: z.string(),
      paths: z.array(z.string()),
      why: z.string(),
    }),
  ),
});

/** One file of a pack. */
export type ManifestFile = z.infer<typeof manifestFile>;
/** What a pack's manifest.json says. */
export type Manifest = z.infer<typeof manifest>;

/** Reads a manifest from parsed JSON; null when it is none of ours or damaged. */
export const readManifest = (json: unknown): Manifest | null => {
  const read = manifest.safeParse(json);
  return read.success ? read.data : null;
};
