import { join } from 'node:path';
import { type BuildOptions, type BuildResult, buildPack, buildSet } from '../pack/index.ts';
import type { BuildState } from '../protocol/index.ts';
import type { Shelf } from '../shelf/index.ts';
import { WorldError } from '../store/index.ts';
import { lessonOnShelf } from './lessonOnShelf.ts';
import { setOnShelf } from './setOnShelf.ts';

/** Builds packs of lessons and of sets, one at a time. An id is a lesson's, or a set's with "sets/" before it. */
export interface Packs {
  readonly stateOf: (id: string) => BuildState;
  /** Begins to build, or puts it in the line; a set is built as a whole. @returns in a sentence why not; null: it will be built */
  readonly build: (id: string, parts?: readonly string[]) => string | null;
  /** Stops a build; harmless where there is none. */
  readonly stop: (id: string) => void;
  /** Stops all. */
  readonly close: () => Promise<void>;
}

/** What packs are built with. */
export interface PackTools {
  readonly shelf: Shelf;
  readonly today: () => string;
  readonly onState: (id: string, state: BuildState) => void;
}

/** Packs that may wait beside the one that is built. Ours. */
const LONGEST_LINE = 5;
/** Progress is told at most so often, in milliseconds. Ours. */
const PROGRESS_PAUSE = 250;

/** What stands before a set's id: no lesson's folder is called so. */
const SET_PREFIX = 'sets/';

/** The id under which a set's pack is built. */
export const buildIdOfSet = (set: string): string => `${SET_PREFIX}${set}`;

const isSetId = (id: string): boolean => id.startsWith(SET_PREFIX);

interface Order {
  readonly id: string;
  /** Left out: all. */
  readonly parts: readonly string[] | undefined;
  readonly stop: AbortController;
}

/** Why a build came to nothing, for the person who reads it. */
const failureWords = (error: unknown): string =>
  error instanceof WorldError ? `${error.message}.` : `This is a fault of the program: ${String(error)}`;

/** Builds something with these options, which say everything but the place. */
type Building = (options: Omit<BuildOptions, 'out'>) => Promise<BuildResult>;

/** A lesson of the shelf, ready to be built; in a sentence why it is not. */
const lessonToBuild = async (shelf: Shelf, id: string, today: string): Promise<Building | string> => {
  const texts = await shelf.read(id);
  const folder = shelf.folderOf(id);
  if (texts === null || folder === null) return 'The lesson is not on the shelf any more.';
  const worked = await lessonOnShelf(texts.texts, folder, today);
  if (worked.kind === 'problem') return worked.message;
  return (options) => buildPack(worked.lesson, worked.source, { ...options, out: join(folder, 'pack') });
};

/** As `lessonToBuild`, of a set. */
const setToBuild = async (shelf: Shelf, id: string, today: string): Promise<Building | string> => {
  const name = id.slice(SET_PREFIX.length);
  const read = await setOnShelf(shelf, name, today);
  if (read === null) return 'The set is not on the shelf any more.';
  if (read.kind === 'problem') return read.message;
  const { source, problems } = read.set;
  if (source === null) return problems.join(' ');
  return (options) => buildSet(source, { ...options, out: shelf.sets.packOf(name) });
};

const stateAfter = (result: BuildResult): BuildState => {
  if (result.kind === 'refused') return { kind: 'failed', message: result.message };
  const failed = (result.kind === 'built' ? result.manifest : result).failed;
  const sentences = failed.map(({ what, why }) => `${what}: ${why}`);
  return result.kind === 'built'
    ? { kind: 'done', bytes: result.bytes, failed: sentences }
    : { kind: 'failed', message: `Nothing could be made. ${sentences[0] ?? ''}` };
};

/** Builds packs of a shelf's lessons and sets. */
export const packsOf = ({ shelf, today, onState }: PackTools): Packs => {
  const states = new Map<string, BuildState>();
  const line: Order[] = [];
  let running: Promise<void> | null = null;
  const put = (id: string, state: BuildState): void => {
    states.set(id, state);
    onState(id, state);
  };

  const buildOne = async ({ id, parts, stop }: Order): Promise<BuildState> => {
    const source = await (isSetId(id) ? setToBuild : lessonToBuild)(shelf, id, today());
    if (typeof source === 'string') return { kind: 'failed', message: source };
    let told = 0;
    const result = await source({
      signal: stop.signal,
      ...(parts === undefined ? {} : { only: parts }),
      onProgress: (fraction, what, secondsLeft) => {
        const now = performance.now();
        if (now - told < PROGRESS_PAUSE) return;
        told = now;
        put(id, { kind: 'building', fraction, what, secondsLeft });
      },
    });
    return stateAfter(result);
  };

  const buildNext = async (): Promise<void> => {
    for (let order = line[0]; order !== undefined; order = line[0]) {
      const { id, stop } = order;
      let end: BuildState;
      try {
        stop.signal.throwIfAborted();
        put(id, { kind: 'building', fraction: 0, what: 'the lesson is worked out', secondsLeft: null });
        end = await buildOne(order);
      } catch (error) {
        end = stop.signal.aborted ? { kind: 'stopped' } : { kind: 'failed', message: failureWords(error) };
      }
      line.shift();
      if (!isSetId(id)) await shelf.look(id).catch(() => undefined);
      put(id, end);
    }
    running = null;
  };

  return {
    stateOf: (id) => states.get(id) ?? { kind: 'idle' },
    build: (id, parts) => {
      if (line.some((order) => order.id === id)) return 'This pack is being built already.';
      if (line.length > LONGEST_LINE)
        return 'Several packs are waiting to be built. Begin this one when they are done.';
      line.push({ id, parts, stop: new AbortController() });
      put(id, {
        kind: 'building',
        fraction: 0,
        what: 'waiting for another pack',
        secondsLeft: null,
      });
      running ??= buildNext();
      return null;
    },
    stop: (id) => {
      for (const order of line) if (order.id === id) order.stop.abort();
    },
    close: async () => {
      for (const { stop } of line) stop.abort();
      await running;
    },
  };
};
