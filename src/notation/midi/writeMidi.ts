import type { MidiEvent, MidiSong, MidiTextKind, MidiTrack } from './midiSong.ts';
import { variableLength } from './variableLength.ts';

/** Types of meta events. Source: Standard MIDI Files 1.0 (RP-001, 1996), "Meta-Events". */
const META: Readonly<
  Record<MidiTextKind | 'tempo' | 'timeSignature' | 'keySignature' | 'endOfTrack', number>
> = {
  text: 0x01,
  copyright: 0x02,
  trackName: 0x03,
  lyric: 0x05,
  marker: 0x06,
  endOfTrack: 0x2f,
  tempo: 0x51,
  timeSignature: 0x58,
  keySignature: 0x59,
};
/** Upper halves of status bytes. Source: MIDI 1.0, channel voice messages. */
const STATUS = {
  noteOff: 0x80,
  noteOn: 0x90,
  controlChange: 0xb0,
  programChange: 0xc0,
  pitchBend: 0xe0,
} as const;
const META_STATUS = 0xff;
/** MIDI clocks in a crotchet, and so in an ordinary metronome click. Source: MIDI 1.0, timing clock. */
const CLOCKS_PER_CROTCHET = 24;
/** Written demisemiquavers in 24 MIDI clocks, wherever a crotchet is a crotchet. Source: Standard MIDI Files 1.0. */
const THIRTY_SECONDS_PER_CROTCHET = 8;
const BEND_MIDDLE = 0x2000;

const whole = (value: number, [low, high]: readonly [number, number], name: string): number => {
  if (!Number.isInteger(value) || value < low || value > high) {
    throw new RangeError(`writeMidi: ${name} ${value}, must be a whole number from ${low} to ${high}`);
  }
  return value;
};
const data = (value: number, name: string): number => whole(value, [0, 127], name);

const bigEndian = (value: number, bytes: number): readonly number[] =>
  Array.from({ length: bytes }, (_, i) => Math.floor(value / 256 ** (bytes - 1 - i)) % 256);

/** UTF-8 bytes; a lone surrogate becomes the replacement character. */
const utf8 = (text: string): readonly number[] => {
  const bytes: number[] = [];
  for (const character of text) {
    const point = character.codePointAt(0) ?? 0;
    const code = point >= 0xd800 && point <= 0xdfff ? 0xfffd : point;
    if (code < 0x80) bytes.push(code);
    else if (code < 0x800) bytes.push(0xc0 | (code >> 6), 0x80 | (code & 0x3f));
    else {
      if (code < 0x10000) bytes.push(0xe0 | (code >> 12));
      else bytes.push(0xf0 | (code >> 18), 0x80 | ((code >> 12) & 0x3f));
      bytes.push(0x80 | ((code >> 6) & 0x3f), 0x80 | (code & 0x3f));
    }
  }
  return bytes;
};

const meta = (type: number, content: readonly number[]): readonly number[] => [
  META_STATUS,
  type,
  ...variableLength(content.length),
  ...content,
];

const powerOfTwo = (unit: number): number => {
  const power = Math.log2(unit);
  if (!Number.isInteger(power)) throw new RangeError(`writeMidi: a metre in ${unit}ths has no MIDI form`);
  return whole(power, [0, 255], 'unit of a time signature');
};

/** Status byte first, then the data bytes. */
const messageOf = (event: MidiEvent): readonly number[] => {
  switch (event.kind) {
    case 'tempo':
      return meta(META.tempo, bigEndian(whole(event.microsecondsPerCrotchet, [1, 0xff_ffff], 'tempo'), 3));
    case 'timeSignature':
      return meta(META.timeSignature, [
        whole(event.count, [1, 255], 'count of a time signature'),
        powerOfTwo(event.unit),
        whole(event.clocksPerClick ?? CLOCKS_PER_CROTCHET, [1, 255], 'clocks a click'),
        THIRTY_SECONDS_PER_CROTCHET,
      ]);
    case 'keySignature':
      return meta(META.keySignature, [
        whole(event.fifths, [-7, 7], 'sharps of a key') & 0xff,
        event.minor ? 1 : 0,
      ]);
    case 'text':
    case 'copyright':
    case 'trackName':
    case 'lyric':
    case 'marker':
      return meta(META[event.kind], utf8(event.text));
    case 'programChange':
      return [statusOf(event), data(event.program, 'program')];
    case 'controlChange':
      return [statusOf(event), data(event.control, 'control'), data(event.value, 'control value')];
    case 'noteOn':
    case 'noteOff':
      return [statusOf(event), data(event.key, 'key'), data(event.velocity, 'velocity')];
    case 'pitchBend': {
      const bend = whole(event.bend, [-BEND_MIDDLE, BEND_MIDDLE - 1], 'bend') + BEND_MIDDLE;
      return [statusOf(event), bend & 0x7f, bend >> 7];
    }
    default:
      return event satisfies never;
  }
};

const statusOf = (event: { readonly kind: keyof typeof STATUS; readonly channel: number }): number =>
  STATUS[event.kind] | (whole(event.channel, [1, 16], 'channel') - 1);

const trackBytes = (track: MidiTrack, runningStatus: boolean): readonly number[] => {
  const events = track.events
    .map((event, i) => ({ event, i }))
    .sort((a, b) => a.event.tick - b.event.tick || a.i - b.i)
    .map(({ event }) => event);
  const bytes: number[] = [];
  let now = 0;
  let status = META_STATUS;
  for (const event of events) {
    bytes.push(...variableLength(event.tick - now));
    now = event.tick;
    const [first = META_STATUS, ...rest] = messageOf(event);
    // Meta events cancel running status. Source: Standard MIDI Files 1.0, "Track Chunks".
    if (!runningStatus || first === META_STATUS || first !== status) bytes.push(first);
    status = first;
    for (const byte of rest) bytes.push(byte);
  }
  bytes.push(...variableLength(Math.max(0, (track.end ?? now) - now)), ...meta(META.endOfTrack, []));
  return bytes;
};

const chunk = (name: string, content: readonly number[]): readonly number[] => [
  ...[...name].map((c) => c.charCodeAt(0)),
  ...bigEndian(content.length, 4),
  ...content,
];

/** How a MIDI file is written. */
export interface MidiWriting {
  /** Leaves out a status byte that repeats the one before; true when absent. */
  readonly runningStatus?: boolean;
}

/**
 * Writes a Standard MIDI File.
 *
 * Text is written as UTF-8 (ASCII stays ASCII). Same song, same bytes.
 * @throws RangeError when a number does not fit its MIDI field, format 0 has not exactly one track, or a time signature
 * is not over a power of two (a caller's bug)
 * @see Source: Standard MIDI Files 1.0 (RP-001, 1996)
 */
export const writeMidi = (song: MidiSong, writing: MidiWriting = {}): Uint8Array => {
  if (song.tracks.length === 0 || (song.format === 0 && song.tracks.length !== 1)) {
    throw new RangeError(`writeMidi: ${song.tracks.length} tracks in a file of format ${song.format}`);
  }
  const header = chunk('MThd', [
    ...bigEndian(song.format, 2),
    ...bigEndian(whole(song.tracks.length, [1, 0xffff], 'number of tracks'), 2),
    ...bigEndian(whole(song.ticksPerCrotchet, [1, 0x7fff], 'ticks a crotchet'), 2),
  ]);
  const tracks = song.tracks.map((t) => chunk('MTrk', trackBytes(t, writing.runningStatus ?? true)));
  return Uint8Array.from([header, ...tracks].flat());
};
