import { type AudienceChoice, audienceOf, type Group, groupWord, isFor, slugOf } from '../lesson/index.ts';
import { inspectPack } from './filesOnDisk.ts';
import type { ManifestFile } from './manifest.ts';
import { zipOf } from './zip.ts';

/** One zip for a group of people. */
export interface Parcel {
  /** "the-tin-thimble-for-subscribers.zip". */
  readonly name: string;
  readonly bytes: Uint8Array;
  readonly files: readonly ManifestFile[];
}

/**
 * The zip that a group gets: its own files of a pack and those of the groups before it, as they lie there, also where a
 * hand has changed them. The manifest is left out: it is the teacher's.
 * @param folder - the pack's
 * @param choice - whom parts are for, where the teacher has said so
 * @returns null where there is no pack, or nothing in it for them
 */
export const zipForAudience = async (
  folder: string,
  choice: AudienceChoice,
  group: Group,
): Promise<Parcel | null> => {
  const pack = await inspectPack(folder);
  if (pack === null) return null;
  const { manifest, disk } = pack;
  const files = manifest.files.filter(
    ({ part = '', path }) => !disk.gone.has(path) && isFor(group, audienceOf(choice, part)),
  );
  if (files.length === 0) return null;
  const bytes = await zipOf(
    folder,
    files.map(({ path }) => path),
    manifest.date,
  );
  return { name: `${slugOf(manifest.title)}-for-${groupWord(group)}.zip`, bytes, files };
};
