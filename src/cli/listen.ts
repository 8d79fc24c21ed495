import { readFile, stat } from 'node:fs/promises';
import { parseArgs } from 'node:util';
import { chapterLines, vttOf } from '../core/index.ts';
import {
  chaptersOf,
  draftFrom,
  hear,
  LISTENING_RATE,
  type Listening,
  listeningJson,
  remarksOf,
  understood,
} from '../listen/index.ts';
import { type DecodedSound, decodeSound } from '../media/index.ts';
import { writeAbc } from '../notation/index.ts';
import type { Score } from '../score/index.ts';
import { worldError, writeWhole } from '../store/index.ts';
import { chooseTune } from './chooseTune.ts';
import { complain, EXIT, type Exit, type Io, say, UsageError } from './io.ts';
import { listenWords } from './listenWords.ts';
import { progressOn } from './progress.ts';
import { complainAll, hasError, pathFrom, readTunes } from './readTunes.ts';
import { slowDown } from './slowDown.ts';

/** Help of `listen`. */
export const LISTEN_HELP = `tuneladder listen RECORDING [options]

Says how far off pitch a recording is, how fast and how swung it is played, and where its bars lie.
Reads WAV, MP3, FLAC, Ogg Vorbis, Opus; others (M4A …) where ffmpeg is installed.

  --tune FILE.abc        the tune that is played: bars, form, what was played differently
  --draft OUT.abc        a first draft of the notes. A draft: check every note by ear
  --chapters OUT.vtt     a chapter for each time a part is played (WebVTT)
  --slow F --out FILE    F times as fast (0.25 to 2) at the same pitch, retuned to A = 440 Hz, as WAV or MP3
  --json                 one JSON document on standard output, nothing else`;

/** Larger files are not a recording of a tune, bytes. Ours: an hour of CD sound is 635 MB. */
const LARGEST_BYTES = 1_000_000_000;

const OPTIONS = {
  tune: { type: 'string' },
  draft: { type: 'string' },
  chapters: { type: 'string' },
  slow: { type: 'string' },
  out: { type: 'string' },
  json: { type: 'boolean', default: false },
} as const;

const SPEEDS = [0.25, 2] as const;

/** What the command line asks for. */
interface Wanted {
  readonly name: string;
  readonly tune: string | undefined;
  readonly draft: string | undefined;
  readonly chapters: string | undefined;
  readonly slow: { readonly speed: number; readonly out: string } | null;
  readonly json: boolean;
}

const slowOf = (slow: string | undefined, out: string | undefined): Wanted['slow'] => {
  if (slow === undefined && out === undefined) return null;
  if (slow === undefined || out === undefined || out === '')
    throw new UsageError('listen: --slow F and --out FILE go together');
  const speed = Number(slow);
  if (!(speed >= SPEEDS[0] && speed <= SPEEDS[1]))
    throw new UsageError(`listen: --slow takes a number from ${SPEEDS[0]} to ${SPEEDS[1]}, not "${slow}"`);
  if (!/\.(wav|mp3)$/i.test(out))
    throw new UsageError('listen: --out takes a name that ends in .wav or .mp3');
  return { speed, out };
};

const wantedFrom = (argv: readonly string[]): Wanted => {
  const { values, positionals } = parseArgs({ args: [...argv], options: OPTIONS, allowPositionals: true });
  const [name, ...more] = positionals;
  if (name === undefined || more.length > 0) throw new UsageError('listen: name one recording');
  for (const option of ['tune', 'draft', 'chapters'] as const)
    if (values[option] === '') throw new UsageError(`listen: --${option} takes the name of a file`);
  const { tune, draft, chapters, json } = values;
  return { name, tune, draft, chapters, json, slow: slowOf(values.slow, values.out) };
};

/** The file's bytes; null after a complaint about the file itself. @throws WorldError when it cannot be read */
const bytesOf = async (name: string, io: Io): Promise<Uint8Array | null> => {
  const path = pathFrom(io, name);
  try {
    const found = await stat(path);
    if (found.isDirectory()) complain(io, `${name}:1:1: This is a folder, not a recording.`);
    else if (found.size > LARGEST_BYTES)
      complain(io, `${name}:1:1: The file is larger than a gigabyte. Cut out the tune first.`);
    else return await readFile(path);
    return null;
  } catch (error) {
    if (error instanceof Error && 'code' in error && error.code === 'ENOENT') {
      complain(io, `${name}:1:1: There is no such file.`);
      return null;
    }
    throw worldError(`cannot read ${name}`, error);
  }
};

/** The tune to follow: null without one, undefined after a complaint. */
const scoreOf = async (name: string | undefined, io: Io): Promise<Score | null | undefined> => {
  if (name === undefined) return null;
  const file = await readTunes(name, io);
  const tune = chooseTune(file, { number: undefined, times: 1 }, io);
  if (tune === null) return undefined;
  if (!hasError(tune.diagnostics)) return tune.score;
  complainAll(io, file, tune.diagnostics);
  return undefined;
};

const writeDraft = async (
  listening: Listening,
  score: Score | null,
  out: string,
  io: Io,
): Promise<boolean> => {
  const draft = draftFrom(listening, score ?? undefined);
  if (draft === null) {
    complain(io, `No draft was written: no bars are heard in the recording.`);
    return false;
  }
  await writeWhole(pathFrom(io, out), writeAbc(draft.score));
  return true;
};

/** Writes what was asked for; false when something could not be made of this recording. */
const writeFiles = async (
  wanted: Wanted,
  listening: Listening,
  score: Score | null,
  io: Io,
): Promise<boolean> => {
  let all = true;
  if (wanted.draft !== undefined) all = await writeDraft(listening, score, wanted.draft, io);
  if (wanted.chapters === undefined) return all;
  const chapters = chaptersOf(listening.bars);
  if (chapters.length > 0) await writeWhole(pathFrom(io, wanted.chapters), vttOf(chapters));
  else complain(io, 'No chapters were written: no bars are heard in the recording.');
  return all && chapters.length > 0;
};

const heardIn = (sound: DecodedSound, score: Score | null, io: Io): Listening => {
  const progress = progressOn(io);
  const [samples = new Float32Array(0)] = sound.channels;
  const heard = hear(samples, sound.rate, (share) => progress.show(share, 'listening'));
  progress.clear();
  return understood(heard, sound.recordedAt, score === null ? {} : { score });
};

/** The recording, one channel at the rate that is listened at: the file itself is let go. Null after a complaint. */
const soundIn = async (name: string, io: Io): Promise<DecodedSound | null> => {
  const bytes = await bytesOf(name, io);
  if (bytes === null) return null;
  const sound = await decodeSound(bytes, { channels: 'mixed', rate: LISTENING_RATE, signal: io.signal });
  if (sound.kind === 'sound') return sound;
  complain(io, `${name}:1:1: ${sound.message}`);
  return null;
};

/** `tuneladder listen`. */
export const listen = async (argv: readonly string[], io: Io): Promise<Exit> => {
  const wanted = wantedFrom(argv);
  const score = await scoreOf(wanted.tune, io);
  const sound = score === undefined ? null : await soundIn(wanted.name, io);
  if (score === undefined || sound === null) return EXIT.input;
  const listening = heardIn(sound, score, io);
  const remarks = remarksOf(listening, score ?? undefined);
  const done = await writeFiles(wanted, listening, score, io);
  const bytes = wanted.slow === null ? null : await bytesOf(wanted.name, io);
  if (wanted.slow !== null && bytes !== null) await slowDown(bytes, listening, wanted.slow, io);
  if (wanted.json) say(io, JSON.stringify(listeningJson(listening, remarks), null, 2));
  else
    for (const line of listenWords(listening, remarks, chapterLines(chaptersOf(listening.bars))))
      say(io, line);
  return done ? EXIT.done : EXIT.input;
};
