import { join } from 'node:path';
import { buildPack } from '../pack/index.ts';
import type { BuildState } from '../protocol/index.ts';
import type { Shelf } from '../shelf/index.ts';
import { WorldError } from '../store/index.ts';
import { lessonOnShelf } from './lessonOnShelf.ts';

/** Builds packs, one at a time. */
export interface Packs {
  readonly stateOf: (id: string) => BuildState;
  /** Begins to build, or puts it in the line. @returns in a sentence why not; null: it will be built */
  readonly build: (id: string, parts: readonly string[]) => string | null;
  /** Stops the build of a lesson; harmless where there is none. */
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

interface Order {
  readonly id: string;
  readonly parts: readonly string[];
  readonly stop: AbortController;
}

/** Why a build came to nothing, for the person who reads it. */
const failureWords = (error: unknown): string =>
  error instanceof WorldError ? `${error.message}.` : `This is a fault of the program: ${String(error)}`;

/** Builds packs of a shelf's lessons. */
export const packsOf = ({ shelf, today, onState }: PackTools): Packs => {
  const states = new Map<string, BuildState>();
  const line: Order[] = [];
  let running: Promise<void> | null = null;
  const put = (id: string, state: BuildState): void => {
    states.set(id, state);
    onState(id, state);
  };

  const buildOne = async ({ id, parts, stop }: Order): Promise<BuildState> => {
    const texts = await shelf.read(id);
    const folder = shelf.folderOf(id);
    if (texts === null || folder === null)
      return { kind: 'failed', message: 'The lesson is not on the shelf any more.' };
    const worked = await lessonOnShelf(texts.texts, folder, today());
    if (worked.kind === 'problem') return { kind: 'failed', message: worked.message };
    let told = 0;
    const result = await buildPack(worked.lesson, worked.source, {
      out: join(folder, 'pack'),
      signal: stop.signal,
      only: parts,
      onProgress: (fraction, what, secondsLeft) => {
        const now = performance.now();
        if (now - told < PROGRESS_PAUSE) return;
        told = now;
        put(id, { kind: 'building', fraction, what, secondsLeft });
      },
    });
    if (result.kind === 'refused') return { kind: 'failed', message: result.message };
    const failed = (result.kind === 'built' ? result.manifest : result).failed;
    const sentences = failed.map(({ what, why }) => `${what}: ${why}`);
    return result.kind === 'built'
      ? { kind: 'done', bytes: result.bytes, failed: sentences }
      : { kind: 'failed', message: `Nothing could be made. ${sentences[0] ?? ''}` };
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
      await shelf.look(id).catch(() => undefined);
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
