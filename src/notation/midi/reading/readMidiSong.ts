import type { MidiEvent, MidiSong, MidiTextKind, MidiTrack } from '../midiSong.ts';

/** A MIDI file as read, or what is wrong with it. */
export type ReadMidiSong =
  | {
      readonly kind: 'song';
      readonly song: MidiSong;
      /** The file stops in the middle of a track; what stood before is read. */
      readonly cut: boolean;
    }
  | { readonly kind: 'problem'; readonly message: string };

/** Bytes of a file and the place of the next one. */
interface Reel {
  readonly bytes: Uint8Array;
  at: number;
  readonly end: number;
}

/** A track ends before its events do. */
class CutShort extends Error {}

const byte = (reel: Reel): number => {
  const value = reel.at < reel.end ? reel.bytes[reel.at] : undefined;
  if (value === undefined) throw new CutShort();
  reel.at += 1;
  return value;
};

const take = (reel: Reel, count: number): Uint8Array => {
  if (reel.at + count > reel.end) throw new CutShort();
  reel.at += count;
  return reel.bytes.subarray(reel.at - count, reel.at);
};

/** Most bytes of a variable-length quantity. Source: Standard MIDI Files 1.0, "Conventions". */
const LONGEST_QUANTITY = 4;

const quantity = (reel: Reel): number => {
  let value = 0;
  for (let i = 0; i < LONGEST_QUANTITY; i += 1) {
    const next = byte(reel);
    value = value * 128 + (next & 0x7f);
    if (next < 0x80) return value;
  }
  return value;
};

const bigEndian = (bytes: Uint8Array): number => bytes.reduce((value, b) => value * 256 + b, 0);

/** Source: Standard MIDI Files 1.0, "Meta-events". */
const TEXTS: Readonly<Record<number, MidiTextKind>> = {
  1: 'text',
  2: 'copyright',
  3: 'trackName',
  5: 'lyric',
  6: 'marker',
};
const META = { status: 0xff, end: 0x2f, tempo: 0x51, time: 0x58, key: 0x59 } as const;
const SYSTEM_EXCLUSIVE = [0xf0, 0xf7];

/** A text event's bytes as UTF-8, where they are, else as Latin-1: the standard names no character set. */
const textFrom = (bytes: Uint8Array): string => {
  try {
    return decodeURIComponent([...bytes].map((b) => `%${b.toString(16).padStart(2, '0')}`).join(''));
  } catch {
    return String.fromCharCode(...bytes);
  }
};

const metaEvent = (tick: number, type: number, data: Uint8Array): MidiEvent | null => {
  const [first = 0, second = 0, third = 0] = data;
  const text = TEXTS[type];
  if (text !== undefined) return { kind: text, tick, text: textFrom(data) };
  if (type === META.tempo && data.length === 3 && bigEndian(data) > 0)
    return { kind: 'tempo', tick, microsecondsPerCrotchet: bigEndian(data) };
  if (type === META.time && data.length >= 2 && first > 0 && second <= 6)
    return { kind: 'timeSignature', tick, count: first, unit: 2 ** second, clocksPerClick: third };
  if (type === META.key && data.length === 2) {
    const fifths = first > 127 ? first - 256 : first;
    return Math.abs(fifths) > 7 ? null : { kind: 'keySignature', tick, fifths, minor: second === 1 };
  }
  return null;
};

/** Source: MIDI 1.0, channel voice messages: how many data bytes follow, and what they say. */
const channelEvent = (tick: number, status: number, reel: Reel): MidiEvent | null => {
  const channel = (status & 0x0f) + 1;
  const kind = status & 0xf0;
  const first = byte(reel) & 0x7f;
  if (kind === 0xc0) return { kind: 'programChange', tick, channel, program: first };
  if (kind === 0xd0) return null;
  const second = byte(reel) & 0x7f;
  switch (kind) {
    case 0x80:
      return { kind: 'noteOff', tick, channel, key: first, velocity: second };
    case 0x90:
      return { kind: second === 0 ? 'noteOff' : 'noteOn', tick, channel, key: first, velocity: second };
    case 0xb0:
      return { kind: 'controlChange', tick, channel, control: first, value: second };
    case 0xe0:
      return { kind: 'pitchBend', tick, channel, bend: second * 128 + first - 8192 };
    default:
      return null;
  }
};

/** The events of one track up to its end, or up to where the file breaks off. */
const readTrack = (reel: Reel): { readonly track: MidiTrack; readonly cut: boolean } => {
  const events: MidiEvent[] = [];
  let tick = 0;
  let status = 0;
  try {
    while (reel.at < reel.end) {
      tick += quantity(reel);
      const next = reel.bytes[reel.at] ?? 0;
      if (next >= 0x80) status = byte(reel);
      if (status === META.status) {
        const type = byte(reel);
        const data = take(reel, quantity(reel));
        if (type === META.end) return { track: { events, end: tick }, cut: false };
        const event = metaEvent(tick, type, data);
        if (event !== null) events.push(event);
        status = 0;
      } else if (SYSTEM_EXCLUSIVE.includes(status)) {
        take(reel, quantity(reel));
        status = 0;
      } else if (status >= 0x80 && status < 0xf0) {
        const event = channelEvent(tick, status, reel);
        if (event !== null) events.push(event);
      } else throw new CutShort();
    }
  } catch (error) {
    if (!(error instanceof CutShort)) throw error;
    return { track: { events }, cut: true };
  }
  return { track: { events, end: tick }, cut: false };
};

const chunkName = (bytes: Uint8Array): string => String.fromCharCode(...bytes);
const HEADER_LENGTH = 6;

/**
 * Reads a Standard MIDI File as the value that `writeMidi` writes.
 *
 * Chunks and events of other kinds are passed over. A file that breaks off is read as far as it goes.
 * @see Source: Standard MIDI Files 1.0 (RP-001, 1996)
 */
export const readMidiSong = (bytes: Uint8Array): ReadMidiSong => {
  const problem = (message: string): ReadMidiSong => ({ kind: 'problem', message });
  const file: Reel = { bytes, at: 0, end: bytes.length };
  const tracks: MidiTrack[] = [];
  let head: Uint8Array | null = null;
  let cut = false;
  try {
    while (file.at < file.end) {
      const name = chunkName(take(file, 4));
      const length = bigEndian(take(file, 4));
      if (head === null && (name !== 'MThd' || length < HEADER_LENGTH))
        return problem('the MIDI file has no header.');
      const end = Math.min(file.end, file.at + length);
      if (name === 'MThd') head ??= bytes.subarray(file.at, end);
      if (name === 'MTrk') {
        const read = readTrack({ bytes, at: file.at, end });
        tracks.push(read.track);
        cut ||= read.cut || file.at + length > file.end;
      }
      file.at = end;
    }
  } catch (error) {
    if (!(error instanceof CutShort)) throw error;
    cut = true;
  }
  if (head === null || head.length < HEADER_LENGTH) return problem('the MIDI file breaks off in its header.');
  const format = bigEndian(head.subarray(0, 2));
  const division = bigEndian(head.subarray(4, 6));
  if (format > 1)
    return problem('the MIDI file holds loose patterns (format 2), no piece. Export it as format 1.');
  if (division === 0 || division >= 0x8000)
    return problem('the MIDI file counts film frames instead of crotchets. Export it with ticks a crotchet.');
  return { kind: 'song', cut, song: { format: format === 0 ? 0 : 1, ticksPerCrotchet: division, tracks } };
};
