import { workedApart } from '../store/index.ts';
import type { SetSource } from './setSource.ts';

/** What is wanted of which corner. */
export interface CornerJob {
  readonly source: SetSource;
  /** The tune before the corner, from 0. */
  readonly index: number;
  readonly what: 'pictures' | 'sound';
}

const cornerWorked = <T>(job: CornerJob): Promise<T> =>
  workedApart(new URL('./cornerWorker.js', import.meta.url), job, 'the corner could not be worked out');

/** `cornerPictures` in a thread of its own. */
export const cornerPicturesApart = (source: SetSource, index: number): Promise<readonly string[]> =>
  cornerWorked({ source, index, what: 'pictures' });

/** `cornerSound` in a thread of its own. */
export const cornerSoundApart = (source: SetSource, index: number): Promise<Uint8Array | null> =>
  cornerWorked({ source, index, what: 'sound' });
