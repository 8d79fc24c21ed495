import { placeFinder } from '../core/index.ts';
import type { ReadTune } from '../notation/index.ts';
import { barsOf, notesOf, playedOrder, type Score, titleOf } from '../score/index.ts';
import { complain, type Io } from './io.ts';
import { complainAll, type TuneFile } from './readTunes.ts';

/**
 * Bars of a tune as printed, and bars of a track with repeats and times through: more would be over an hour of music.
 * Ours: a track of so many bars takes 4 GB of memory to render.
 */
const MOST_BARS = 2000;

/** The bars that a track plays; null when there are more than anybody counts. */
const playedBars = (score: Score, times: number): number | null => {
  try {
    return playedOrder(score).length * times;
  } catch (error) {
    if (error instanceof RangeError) return null;
    throw error;
  }
};

/** Why no pack can be made of a tune, in a sentence; null when one can. */
const objection = ({ score }: ReadTune, times: number): string | null => {
  const title = titleOf(score);
  if (notesOf(score).length === 0) return `the tune "${title}" has no notes.`;
  const bars = barsOf(score).length;
  if (bars > MOST_BARS)
    return `the tune "${title}" has ${bars} bars; a pack is made of at most ${MOST_BARS}. Pack it in parts.`;
  const played = playedBars(score, times);
  if (played !== null && played <= MOST_BARS) return null;
  const through = times === 1 ? 'once through' : `${times} times through`;
  return `with its repeats, ${through}, the tune "${title}" plays ${played ?? 'far too many'} bars; a track has at most ${MOST_BARS}. Write fewer repeats, or play it fewer times with --times 1.`;
};

/** Which tune of a file, and how it will be played. */
export interface TuneChoice {
  /** The number after `X:`; undefined: the only tune of the file. */
  readonly number: number | undefined;
  /** Times through in a track. */
  readonly times: number;
}

/** The tune to pack; null after a complaint. */
export const chooseTune = (file: TuneFile, { number, times }: TuneChoice, io: Io): ReadTune | null => {
  const { tunes, diagnostics } = file.book;
  if (tunes.length === 0) {
    complainAll(io, file, diagnostics);
    return null;
  }
  const [tune] = number === undefined ? tunes : tunes.filter((t) => t.score.number === number);
  if (tune === undefined) {
    complain(io, `${file.name}:1:1: there is no tune with the number ${number}.`);
    return null;
  }
  if (number === undefined && tunes.length > 1) {
    complain(
      io,
      `${file.name}:1:1: the file holds ${tunes.length} tunes. Say which one with --tune N (the number after X:).`,
    );
    return null;
  }
  const why = objection(tune, times);
  if (why === null) return tune;
  const { line, column } = placeFinder(file.text)(tune.span.start);
  complain(io, `${file.name}:${line}:${column}: ${why}`);
  return null;
};
