import {
  type LessonSettings,
  type OwnRecording,
  SOUND_FORMATS,
  type TempoWish,
  type TrackWish,
} from '../lesson/index.ts';
import { PLAYERS } from '../perform/index.ts';
import { UsageError } from './io.ts';

/** What `pack` takes about its tracks. */
export const TRACK_OPTIONS = {
  add: { type: 'string', multiple: true },
  own: { type: 'string', multiple: true },
  format: { type: 'string' },
  click: { type: 'boolean' },
  backing: { type: 'string' },
  pattern: { type: 'string' },
  swing: { type: 'string' },
  exact: { type: 'boolean' },
  vibrato: { type: 'boolean' },
} as const;

/** Help on these options, with what `--add` reads. */
export const TRACK_HELP = `  --add "WORDS"            one more track; may be given several times. WORDS are
                             bones, plain, full or backing (that alone)
                             at 62, at 60,66,72 (a track each), at learn, steady, speed
                             bars 5-8, bars B1-B4   only these, over and over
                             climb 90               gradually faster, up to 90
                             echo, echo 4           two (four) bars played, then left to you
                             times 3 · bare · click
  --own [N=]FILE           your own recording, in the place of track N or as one more
  --format KINDS           mp3 (default), flac, wav, or several: mp3,flac
  --click                  a click on every beat of every track
  --backing PLAYERS        some of guitar,piano,bass,drum (default guitar,bass)
  --pattern usual|other    which of the dance's two backing patterns
  --swing HOW              straight, light, usual, strong, or long : short as a number (1 to 2.5)
  --exact                  no small differences from note to note
  --vibrato                vibrato on long notes`;

const list = (text: string): readonly string[] =>
  text
    .split(',')
    .map((word) => word.trim())
    .filter((word) => word !== '');

const chosen = <T extends string>(option: string, text: string, choices: readonly T[]): readonly T[] => {
  const found = list(text).map((word) => {
    const choice = choices.find((c) => c === word);
    if (choice === undefined)
      throw new UsageError(`pack: --${option} takes some of ${choices.join(',')}, not "${word}"`);
    return choice;
  });
  if (found.length === 0) throw new UsageError(`pack: --${option} takes some of ${choices.join(',')}`);
  return [...new Set(found)];
};

const wrongWords = (text: string, why: string): UsageError => new UsageError(`pack: --add "${text}": ${why}`);

const STEPS: Readonly<Record<string, TempoWish>> = { learn: 'learn', steady: 'steady', speed: 'upToSpeed' };
const LEAST_TEMPO = 10;
const MOST_TEMPO = 400;

const tempoFrom = (word: string | undefined, text: string): TempoWish => {
  const step = STEPS[word ?? ''];
  if (step !== undefined) return step;
  const tempo = Number(word ?? 'none');
  if (!(tempo >= LEAST_TEMPO && tempo <= MOST_TEMPO))
    throw wrongWords(
      text,
      `a tempo is ${LEAST_TEMPO} to ${MOST_TEMPO} beats a minute, or learn, steady, speed, not "${word ?? ''}"`,
    );
  return tempo;
};

const countFrom = (word: string | undefined, most: number, text: string): number => {
  const count = Number(word ?? 'none');
  if (!Number.isInteger(count) || count < 1 || count > most)
    throw wrongWords(text, `a whole number from 1 to ${most} is wanted, not "${word ?? ''}"`);
  return count;
};

/** A version's id begins with its kind. */
const VERSION_WORD = /^(bones|plain|full)[A-Za-z]*$/;

type Draft = { -readonly [K in keyof TrackWish]: TrackWish[K] };

/** Reads one word of a track's description and what belongs to it; takes these off `words`. */
const readWord = (draft: Draft, tempos: TempoWish[], words: string[], text: string): void => {
  const word = words.shift() ?? '';
  if (VERSION_WORD.test(word)) draft.version = word;
  else if (word === 'backing') draft.version = 'none';
  else if (word === 'bare') draft.backing = false;
  else if (word === 'click') draft.click = true;
  else if (word === 'at') tempos.push(...list(words.shift() ?? '').map((t) => tempoFrom(t, text)));
  else if (word === 'climb') draft.climbTo = tempoFrom(words.shift(), text);
  else if (word === 'bars' || word === 'bar') draft.bars = words.shift();
  else if (word === 'times') draft.times = countFrom(words.shift(), 99, text);
  else if (word === 'echo')
    draft.echo = /^\d/.test(words[0] ?? '') ? countFrom(words.shift(), 16, text) : ECHO_BARS;
  else
    throw wrongWords(
      text,
      `"${word}" is not known here; there are bones, plain, full, backing, at, bars, climb, echo, times, bare, click`,
    );
};

/** Bars of an echo where nothing is said. Common practice: two. */
const ECHO_BARS = 2;

/**
 * The tracks that somebody describes in words: one, or one for each tempo.
 * @throws UsageError when the words are not understood
 */
const tracksFrom = (text: string): readonly TrackWish[] => {
  const words = text
    .replaceAll(/,\s+/g, ' ')
    .split(/\s+/)
    .filter((w) => w !== '');
  const draft: Draft = {};
  const tempos: TempoWish[] = [];
  if (words.length === 0) throw wrongWords(text, 'say which track');
  while (words.length > 0) readWord(draft, tempos, words, text);
  return tempos.length === 0 ? [draft] : tempos.map((tempo) => ({ ...draft, tempo }));
};

/** "4=steady.wav" or "steady.wav". @param place - a path as the user means it */
const recordingFrom = (text: string, place: (path: string) => string): OwnRecording => {
  const [, track, file = ''] = /^(?:(\d+)=)?(.+)$/.exec(text) ?? [];
  if (file === '') throw new UsageError('pack: --own takes a sound file, or N=FILE');
  return { file: place(file), ...(track === undefined ? {} : { track: Number(track) }) };
};

const SWINGS: Readonly<Record<string, number | null>> = {
  straight: 1,
  light: 1.15,
  usual: null,
  strong: 1.6,
};
const SWING_RANGE = [1, 2.5] as const;

const swingFrom = (text: string): number | null => {
  const named = SWINGS[text];
  if (named !== undefined) return named;
  const swing = Number(text);
  if (!(swing >= SWING_RANGE[0] && swing <= SWING_RANGE[1]))
    throw new UsageError(
      `pack: --swing takes ${Object.keys(SWINGS).join(', ')} or a number from 1 to 2.5, not "${text}"`,
    );
  return swing;
};

/** Values of these options as `parseArgs` gives them. */
export type TrackValues = {
  [K in keyof typeof TRACK_OPTIONS]?: string | boolean | readonly (string | boolean)[] | undefined;
};

/**
 * A lesson's settings with what the command line says about its tracks.
 * @param place - where a path lies that the user gave
 * @throws UsageError when an option is wrong
 */
export const withTrackOptions = (
  stored: LessonSettings,
  values: TrackValues,
  place: (path: string) => string,
): LessonSettings => {
  const text = (key: keyof TrackValues): string | null => {
    const value = values[key];
    return typeof value === 'string' ? value : null;
  };
  const texts = (key: keyof TrackValues): readonly string[] => {
    const value = values[key];
    return Array.isArray(value) ? value.map(String) : [];
  };
  const [format, players, pattern, swing] = [text('format'), text('backing'), text('pattern'), text('swing')];
  return {
    ...stored,
    tracks: [...stored.tracks, ...texts('add').flatMap(tracksFrom)],
    recordings: [...stored.recordings, ...texts('own').map((own) => recordingFrom(own, place))],
    formats: format === null ? stored.formats : chosen('format', format, SOUND_FORMATS),
    click: values.click === true || stored.click,
    band: {
      players: players === null ? stored.band.players : chosen('backing', players, PLAYERS),
      pattern:
        pattern === null
          ? stored.band.pattern
          : (chosen('pattern', pattern, ['usual', 'other'])[0] ?? 'usual'),
    },
    swing: swing === null ? stored.swing : swingFrom(swing),
    fiddle: {
      variation: values.exact === true ? false : stored.fiddle.variation,
      vibrato: values.vibrato === true || stored.fiddle.vibrato,
    },
  };
};
