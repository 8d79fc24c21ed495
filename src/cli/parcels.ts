import { join } from 'node:path';
import { GROUPS, groupWord, type Lesson, letterOf } from '../lesson/index.ts';
import { inspectPack, zipForAudience } from '../pack/index.ts';
import { readTextFile, writeWhole } from '../store/index.ts';
import { complain, type Io, say } from './io.ts';
import { pathFrom } from './readTunes.ts';

/**
 * Writes a zip and the draft of a letter for each group.
 *
 * A draft that somebody has worked on stays as it is.
 * @param pack - the pack's path
 * @param name - the folder that they go to, as the user named it
 */
export const writeParcels = async (lesson: Lesson, pack: string, name: string, io: Io): Promise<void> => {
  const files = (await inspectPack(pack))?.manifest.files ?? [];
  const parts = files.map(({ part = '', what }) => ({ id: part, what }));
  for (const group of GROUPS) {
    const parcel = await zipForAudience(pack, lesson.settings.audiences, group);
    if (parcel === null) continue;
    const place = (file: string): string => pathFrom(io, join(name, file));
    await writeWhole(place(parcel.name), parcel.bytes);
    say(
      io,
      `  ${join(name, parcel.name)}  for ${groupWord(group)}, ${(parcel.bytes.length / 1e6).toFixed(1)} MB`,
    );
    const letter = parcel.name.replace(/\.zip$/, '-letter.txt');
    const draft = letterOf(lesson, group, parts);
    const there = await readTextFile(place(letter));
    if (there.kind === 'text' && there.text !== draft)
      complain(io, `${join(name, letter)} is there already and stays as it is; delete it for a new draft.`);
    else await writeWhole(place(letter), draft);
  }
};
