import type { SoundFormat } from '../lesson/index.ts';
import { workedApart } from '../store/index.ts';
import type { PackSource } from './source.ts';

/** Whether a track's files carry a picture: WAV has no place for one. */
export const showsCover = (formats: readonly SoundFormat[]): boolean =>
  formats.some((format) => format !== 'wav');

/**
 * The tracks' picture, drawn in a thread that ends with it: what engraving needs would lie beside the tracks for ever.
 * @param title - default: the tune's
 * @throws Error when it cannot be drawn
 */
export const coverDrawnApart = (source: PackSource, title?: string): Promise<Uint8Array> =>
  workedApart(
    new URL('./coverWorker.js', import.meta.url),
    { source, title },
    'the picture of the tracks could not be drawn',
  );
