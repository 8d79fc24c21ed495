import { execFile } from 'node:child_process';
import { readFile } from 'node:fs/promises';
import { basename } from 'node:path';
import { promisify } from 'node:util';
import { hertz } from '../core/index.ts';
import {
  levelOf,
  loudnessOf,
  readWav,
  resampled,
  type StereoSound,
  truePeakOf,
  type WavContent,
} from '../signal/index.ts';

/** Sample rate of every track. */
const RATE = hertz(44_100);
/** FFmpeg decodes to so many bytes at most: an hour of stereo. Ours. */
const MOST_BYTES = 1.3e9;
/** Below this there is nothing to hear, LUFS: the gate of BS.1770. Source: ITU-R BS.1770-4, annex 1. */
const SILENT = -70;
/** A recording that is turned up by more than this brings its noise with it, in LU. Ours. */
const QUIET = -34;
/** So near full scale a peak was probably cut off, dBTP. Ours. */
const CUT_OFF = -0.05;
/** Length against the track that it stands for, as a factor, beyond which it is probably another tune. Ours. */
const LENGTH_RANGE = { least: 0.6, most: 1.6 } as const;

/** A recording that cannot be used, with the reason in a sentence. */
export class OwnSoundError extends Error {
  override readonly name = 'OwnSoundError';
}

/** Decoded by FFmpeg, where it is installed, to a WAV file's bytes. */
const decodedElsewhere = async (path: string): Promise<Uint8Array> => {
  const args = [
    '-v',
    'error',
    '-nostdin',
    '-i',
    path,
    '-vn',
    '-ac',
    '2',
    '-c:a',
    'pcm_f32le',
    '-f',
    'wav',
    '-',
  ];
  try {
    const { stdout } = await promisify(execFile)('ffmpeg', args, {
      encoding: 'buffer',
      maxBuffer: MOST_BYTES,
    });
    return new Uint8Array(stdout);
  } catch (error) {
    const missing = error instanceof Error && 'code' in error && error.code === 'ENOENT';
    throw new OwnSoundError(
      missing
        ? `"${basename(path)}" is not a plain WAV file, and FFmpeg, which reads others, is not installed. Save it as WAV, or install FFmpeg`
        : `"${basename(path)}" is not a sound file that can be read`,
      { cause: error },
    );
  }
};

const nameOfKind = (bytes: Uint8Array): string => String.fromCharCode(...bytes.subarray(0, 4));

const wavIn = async (path: string): Promise<WavContent> => {
  let bytes: Uint8Array;
  try {
    bytes = await readFile(path);
  } catch (error) {
    throw new OwnSoundError(`"${basename(path)}" cannot be opened`, { cause: error });
  }
  const own = nameOfKind(bytes) === 'RIFF' ? readWav(bytes) : null;
  // WAV files that hold something else than plain samples are left to FFmpeg, too.
  const read = own?.kind === 'wav' ? own : readWav(await decodedElsewhere(path));
  if (read.kind === 'wav') return read;
  throw new OwnSoundError(`"${basename(path)}": ${read.message}`);
};

/**
 * A teacher's recording as a track's samples: stereo, 44,100 a second, as loud as it was recorded.
 * @throws OwnSoundError when it cannot be read
 */
export const readOwnSound = async (path: string): Promise<StereoSound> => {
  const { rate, channels } = await wavIn(path);
  const [left = new Float32Array(0), right = left] = channels.map((samples) =>
    resampled(samples, rate, RATE),
  );
  return { rate: RATE, left, right };
};

const minutes = (seconds: number): string =>
  `${Math.floor(seconds / 60)}:${String(Math.round(seconds % 60)).padStart(2, '0')}`;

/**
 * Can a recording stand for a track, and what should its teacher know?
 * @param expected - length of the track whose place it takes, seconds; null: no track's
 * @returns remarks in sentences; none when all is well
 * @throws OwnSoundError when it cannot be used: not to be read, empty, or silent
 */
export const inspectOwnSound = async (path: string, expected: number | null): Promise<readonly string[]> => {
  const sound = await readOwnSound(path);
  const name = `"${basename(path)}"`;
  const length = sound.left.length / RATE;
  const loudness = loudnessOf(sound);
  if (length === 0) throw new OwnSoundError(`${name} is empty`);
  if (loudness < SILENT) throw new OwnSoundError(`${name} is silent`);
  const remarks: string[] = [];
  if (expected !== null && (length < LENGTH_RANGE.least * expected || length > LENGTH_RANGE.most * expected))
    remarks.push(
      `${name} lasts ${minutes(length)}, the track whose place it takes ${minutes(expected)}. Is it the right one?`,
    );
  if (loudness < QUIET)
    remarks.push(`${name} is very quiet (${loudness.toFixed(0)} LUFS): turned up, its noise will be heard.`);
  if (truePeakOf(sound) > levelOf(1) + CUT_OFF)
    remarks.push(`${name} reaches full scale: its loudest places are probably cut off.`);
  return remarks;
};
