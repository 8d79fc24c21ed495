import { spawn } from 'node:child_process';
import { hertz } from '../core/index.ts';
import type { DecodedSound, DecodeOptions, DecodeProblem } from './decoded.ts';

/** Samples a second that ffmpeg is asked for unless said. */
const RECORDED = hertz(44_100);

const problem = (message: string): DecodeProblem => ({ kind: 'problem', message });

const NOT_THERE =
  'The program reads WAV, MP3, FLAC, Ogg Vorbis and Opus by itself. For other sound files it needs ffmpeg, which is not installed.';
const NOT_SOUND = 'This is not a sound file that can be read.';

/** Runs ffmpeg with the file on its standard input; null when it isn't installed. */
const ffmpeg = (bytes: Uint8Array, args: readonly string[], signal?: AbortSignal): Promise<Buffer | null> =>
  new Promise((resolve, reject) => {
    const run = spawn('ffmpeg', args, { stdio: ['pipe', 'pipe', 'ignore'], ...(signal && { signal }) });
    const pieces: Buffer[] = [];
    run.on('error', (error) => ('code' in error && error.code === 'ENOENT' ? resolve(null) : reject(error)));
    run.stdout.on('data', (piece: Buffer) => pieces.push(piece));
    run.on('close', () => resolve(Buffer.concat(pieces)));
    // ffmpeg closes its input as soon as it has understood enough.
    run.stdin.on('error', () => undefined);
    run.stdin.end(bytes);
  });

const apart = (samples: Float32Array, channels: number): readonly Float32Array[] =>
  Array.from({ length: channels }, (_, c) =>
    Float32Array.from({ length: samples.length / channels }, (_, i) => samples[i * channels + c] as number),
  );

/**
 * Decodes what the packages can't (M4A and others) by the ffmpeg of this machine.
 * @returns the sound, or what is wrong in a sentence
 */
export const decodeElsewhere = async (
  bytes: Uint8Array,
  { channels: how, rate = RECORDED, longest = 3_600, signal }: DecodeOptions,
): Promise<DecodedSound | DecodeProblem> => {
  const channels = how === 'mixed' ? 1 : 2;
  const limit = ['-t', String(longest + 1)];
  const args = [
    '-v',
    'quiet',
    '-i',
    'pipe:0',
    '-vn',
    ...limit,
    '-ac',
    String(channels),
    '-ar',
    String(rate),
    '-f',
    'f32le',
    'pipe:1',
  ];
  const raw = await ffmpeg(bytes, args, signal);
  if (raw === null) return problem(NOT_THERE);
  const count = Math.floor(raw.length / 4 / channels) * channels;
  if (count === 0) return problem(NOT_SOUND);
  if (count / channels / rate > longest) return problem('The recording is too long. Cut out the tune first.');
  const samples = new Float32Array(count);
  for (let i = 0; i < count; i += 1) samples[i] = raw.readFloatLE(i * 4);
  return { kind: 'sound', rate, recordedAt: RECORDED, channels: apart(samples, channels) };
};
