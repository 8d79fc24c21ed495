import { seconds } from '../core/index.ts';
import type { PassBar, SeatedNote } from './pass.ts';

/** Shortest piece of an ornament when it is opened out, seconds. Ours: slow enough to count. */
const SHORTEST = 0.26;
/** No piece is longer than this many of the shortest. Ours. */
const LONGEST = 3;
/** Silence after the slow form, seconds. */
const PAUSE = 0.35;

/**
 * An ornament opened out: its pieces one after the other, the short ones long enough to be counted, the long ones not
 * much longer, each begun as it is in its place.
 * @param notes - the pieces as played in the tune, in order
 * @returns a bar of its own; it stands nowhere in the tune
 */
export const slowForm = (notes: readonly SeatedNote[]): PassBar => {
  const shortest = Math.min(...notes.map((n) => n.length));
  let at = 0;
  const slow = notes.map((note): SeatedNote => {
    const length = SHORTEST * Math.min(LONGEST, note.length / shortest) ** 0.5;
    const start = at;
    if (note.beside !== true) at += length;
    const { glideTime, ...rest } = note;
    return {
      ...rest,
      start: seconds(note.beside === true ? Math.max(0, at - length) : start),
      length: seconds(length),
      ...(glideTime === undefined ? {} : { glideTime: seconds(length / 2) }),
    };
  });
  return { index: -1, start: 0, end: at + PAUSE, notes: slow };
};
