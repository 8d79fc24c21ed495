import { watch } from 'node:fs';
import { type FileHandle, lstat, mkdir, open, readdir, readFile, rename, rm } from 'node:fs/promises';
import { codeOf } from '../store/index.ts';

/** What stands at a path; a link is told as a link, not as what it leads to. */
export interface FileAbout {
  readonly kind: 'file' | 'folder' | 'other';
  readonly size: number;
  /** Milliseconds since 1970. */
  readonly changed: number;
}

/** The file calls that a shelf makes: given to it, so that tests can let any of them fail. */
export interface ShelfFiles {
  readonly read: (path: string) => Promise<Uint8Array>;
  /** Null: nothing is there. */
  readonly about: (path: string) => Promise<FileAbout | null>;
  /** Names in a folder; none where there is no such folder. */
  readonly names: (path: string) => Promise<readonly string[]>;
  /** Writes a file and waits until the disk has it. */
  readonly write: (path: string, bytes: Uint8Array | string) => Promise<void>;
  readonly rename: (from: string, to: string) => Promise<void>;
  /** Waits until the disk has the names in a folder. */
  readonly settle: (folder: string) => Promise<void>;
  readonly makeFolder: (path: string) => Promise<void>;
  /** Removes a file or a folder with all that is in it; nothing there is no failure. */
  readonly remove: (path: string) => Promise<void>;
  /** Asks the system to tell of changes in a folder. @returns stops it; null: this system does not tell */
  readonly watch: (folder: string, onChange: () => void) => (() => void) | null;
}

const whileOpen = async (file: FileHandle, work: () => Promise<void>): Promise<void> => {
  try {
    await work();
  } finally {
    await file.close();
  }
};

/** Systems that have no such thing as a folder's own sync say one of these. */
const NO_FOLDER_SYNC = ['EISDIR', 'EPERM', 'EINVAL', 'ENOTSUP', 'EBADF'];

/** The disk. */
export const diskFiles: ShelfFiles = {
  read: (path) => readFile(path),
  about: async (path) => {
    try {
      const found = await lstat(path);
      const kind = found.isFile() ? 'file' : found.isDirectory() ? 'folder' : 'other';
      return { kind, size: found.size, changed: found.mtimeMs };
    } catch (error) {
      if (codeOf(error) === 'ENOENT' || codeOf(error) === 'ENOTDIR') return null;
      throw error;
    }
  },
  names: async (path) => {
    try {
      return await readdir(path);
    } catch (error) {
      if (codeOf(error) === 'ENOENT') return [];
      throw error;
    }
  },
  write: async (path, bytes) => {
    const file = await open(path, 'w');
    await whileOpen(file, async () => {
      await file.writeFile(bytes);
      await file.sync();
    });
  },
  rename: (from, to) => rename(from, to),
  settle: async (folder) => {
    try {
      const file = await open(folder, 'r');
      await whileOpen(file, () => file.sync());
    } catch (error) {
      if (!NO_FOLDER_SYNC.includes(codeOf(error) ?? '')) throw error;
    }
  },
  makeFolder: async (path) => {
    await mkdir(path, { recursive: true });
  },
  remove: (path) => rm(path, { recursive: true, force: true }),
  watch: (folder, onChange) => {
    try {
      const watcher = watch(folder, { persistent: false }, onChange);
      watcher.on('error', () => watcher.close());
      return () => watcher.close();
    } catch {
      return null;
    }
  },
};
