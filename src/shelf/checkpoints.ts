import { join } from 'node:path';
import { TEXT_NAMES } from './lessonTexts.ts';
import type { ShelfFiles } from './shelfFiles.ts';

/** The folder of a lesson's earlier states: one folder each, named by its time, with the two files as they were. */
const EARLIER = 'earlier';

const MARK = /^(\d{4}-\d\d-\d\d)T(\d\d)-(\d\d)-(\d\d)-(\d{3})Z$/;

const HOUR = 3_600_000;
const DAY = 24 * HOUR;

/** "2026-11-25T10-15-30-123Z": a moment as a name that every file system takes. */
export const markOf = (when: Date): string => when.toISOString().replace(/[:.]/g, '-');

/** The moment of a mark; null where it is none. */
export const whenOf = (mark: string): Date | null => {
  const match = MARK.exec(mark);
  if (match === null) return null;
  const when = new Date(`${match[1]}T${match[2]}:${match[3]}:${match[4]}.${match[5]}Z`);
  return Number.isNaN(when.getTime()) ? null : when;
};

/** Where an earlier state lies. */
export const checkpointFolder = (folder: string, mark: string): string => join(folder, EARLIER, mark);

/** A lesson's earlier states, newest first. */
export const checkpointMarks = async (folder: string, files: ShelfFiles): Promise<readonly string[]> => {
  const names = await files.names(join(folder, EARLIER));
  return names.filter((name) => whenOf(name) !== null).toSorted((a, b) => (a < b ? 1 : -1));
};

/**
 * Which of some earlier states may go: all of the last hour stay, then the last of each hour of a day, then the last of
 * each day.
 * @param marks - newest first
 */
export const tooMany = (marks: readonly string[], now: Date): readonly string[] => {
  const taken = new Set<string>();
  return marks.filter((mark) => {
    const when = whenOf(mark)?.getTime() ?? 0;
    const age = now.getTime() - when;
    if (age < HOUR) return false;
    const slot = age < DAY ? `hour ${Math.floor(when / HOUR)}` : `day ${Math.floor(when / DAY)}`;
    if (taken.has(slot)) return true;
    taken.add(slot);
    return false;
  });
};

/**
 * Keeps the lesson's files, byte by byte, as an earlier state, and lets go of those that have become too many.
 * @returns its mark; null where there is no file to keep
 */
export const addCheckpoint = async (folder: string, now: Date, files: ShelfFiles): Promise<string | null> => {
  const marks = await checkpointMarks(folder, files);
  let when = now;
  while (marks.includes(markOf(when))) when = new Date(when.getTime() + 1);
  const mark = markOf(when);
  const making = join(folder, EARLIER, `.${mark}`);
  await files.makeFolder(making);
  let kept = 0;
  for (const name of Object.values(TEXT_NAMES)) {
    if ((await files.about(join(folder, name)))?.kind !== 'file') continue;
    await files.write(join(making, name), await files.read(join(folder, name)));
    kept += 1;
  }
  if (kept === 0) {
    await files.remove(making);
    return null;
  }
  await files.rename(making, checkpointFolder(folder, mark));
  await files.settle(join(folder, EARLIER));
  for (const old of tooMany([mark, ...marks], now))
    await files.remove(checkpointFolder(folder, old)).catch(() => undefined);
  return mark;
};
