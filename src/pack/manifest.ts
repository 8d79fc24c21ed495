import { z } from 'zod';

/** Names the form of a pack's manifest.json. */
export const PACK_FORMAT = 'tuneladder-pack';

const manifestFile = z.object({
  path: z.string(),
  /** What it is, in words. */
  what: z.string(),
  bytes: z.int().min(0),
  sha256: z.string(),
  /** `old`: made by an earlier run and kept, because this run could not make it anew. */
  state: z.enum(['new', 'old']),
});

const manifest = z.object({
  format: z.literal(PACK_FORMAT),
  version: z.literal(1),
  title: z.string(),
  teacher: z.string(),
  date: z.string(),
  files: z.array(manifestFile),
  /** What this run could not make, and why. */
  failed: z.array(z.object({ what: z.string(), paths: z.array(z.string()), why: z.string() })),
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
