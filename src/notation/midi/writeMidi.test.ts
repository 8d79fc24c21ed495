import fc from 'fast-check';
import { parseMidi } from 'midi-file';
import { describe, expect, test } from 'vitest';
import type { MidiEvent, MidiSong } from './midiSong.ts';
import { variableLength } from './variableLength.ts';
import { writeMidi } from './writeMidi.ts';

const hex = (bytes: Iterable<number>): string =>
  [...bytes].map((b) => b.toString(16).toUpperCase().padStart(2, '0')).join(' ');

// Source: Standard MIDI Files 1.0 (RP-001, 1996), table of variable-length quantities.
test.each([
  [0x00000000, '00'],
  [0x00000040, '40'],
  [0x0000007f, '7F'],
  [0x00000080, '81 00'],
  [0x00002000, 'C0 00'],
  [0x00003fff, 'FF 7F'],
  [0x00004000, '81 80 00'],
  [0x00100000, 'C0 80 00'],
  [0x001fffff, 'FF FF 7F'],
  [0x00200000, '81 80 80 00'],
  [0x08000000, 'C0 80 80 00'],
  [0x0fffffff, 'FF FF FF 7F'],
])('the quantity %i is written %s', (value, bytes) => expect(hex(variableLength(value))).toBe(bytes));

test.each([-1, 0.5, 0x10000000])('there is no quantity %f', (value) =>
  expect(() => variableLength(value)).toThrow(RangeError),
);

const on = (tick: number, channel: number, key: number, velocity: number): MidiEvent => ({
  kind: 'noteOn',
  tick,
  channel,
  key,
  velocity,
});
const off = (tick: number, channel: number, key: number, velocity = 64): MidiEvent => ({
  kind: 'noteOff',
  tick,
  channel,
  key,
  velocity,
});

describe('the published example', () => {
  // Source: Standard MIDI Files 1.0 (RP-001, 1996), appendix: example of format 0, 81 bytes.
  const example: MidiSong = {
    format: 0,
    ticksPerCrotchet: 96,
    tracks: [
      {
        events: [
          { kind: 'timeSignature', tick: 0, count: 4, unit: 4 },
          { kind: 'tempo', tick: 0, microsecondsPerCrotchet: 500_000 },
          { kind: 'programChange', tick: 0, channel: 1, program: 5 },
          { kind: 'programChange', tick: 0, channel: 2, program: 46 },
          { kind: 'programChange', tick: 0, channel: 3, program: 70 },
          on(0, 3, 48, 96),
          on(0, 3, 60, 96),
          on(96, 2, 67, 64),
          on(192, 1, 76, 32),
          off(384, 3, 48),
          off(384, 3, 60),
          off(384, 2, 67),
          off(384, 1, 76),
        ],
      },
    ],
  };
  const published =
    '4D 54 68 64 00 00 00 06 00 00 00 01 00 60 4D 54 72 6B 00 00 00 3B 00 FF 58 04 04 02 18 08 ' +
    '00 FF 51 03 07 A1 20 00 C0 05 00 C1 2E 00 C2 46 00 92 30 60 00 3C 60 60 91 43 40 60 90 4C 20 ' +
    '81 40 82 30 40 00 3C 40 00 81 43 40 00 80 4C 40 00 FF 2F 00';
  test('comes out byte for byte', () => {
    const bytes = writeMidi(example);
    expect(bytes).toHaveLength(81);
    expect(hex(bytes)).toBe(published);
  });
  test('has two status bytes more without running status, and reads the same', () => {
    const bytes = writeMidi(example, { runningStatus: false });
    expect(bytes).toHaveLength(83);
    const plain = (events: readonly object[] | undefined): unknown =>
      events?.map((e) => ({ ...e, running: undefined }));
    expect(plain(parseMidi(bytes).tracks[0])).toEqual(plain(parseMidi(writeMidi(example)).tracks[0]));
  });
});

describe('refuses what MIDI cannot say', () => {
  const song = (...events: readonly MidiEvent[]): MidiSong => ({
    format: 0,
    ticksPerCrotchet: 96,
    tracks: [{ events }],
  });
  test.each([
    ['a velocity of 128', song(on(0, 1, 60, 128))],
    ['channel 0', song(on(0, 0, 60, 1))],
    ['channel 17', song(on(0, 17, 60, 1))],
    ['a key between two keys', song(on(0, 1, 60.5, 1))],
    ['time before the start', song(on(-1, 1, 60, 1))],
    ['a tempo of nothing', song({ kind: 'tempo', tick: 0, microsecondsPerCrotchet: 0 })],
    ['a metre in sixths', song({ kind: 'timeSignature', tick: 0, count: 4, unit: 6 })],
    ['two tracks in format 0', { ...song(), tracks: [{ events: [] }, { events: [] }] }],
    ['no track', { ...song(), format: 1, tracks: [] } as MidiSong],
    ['no ticks', { ...song(), ticksPerCrotchet: 0 }],
  ])('%s', (_, wrong) => expect(() => writeMidi(wrong)).toThrow(RangeError));
});

/** Our events as midi-file names them. */
const asRead = (event: MidiEvent): Record<string, unknown> => {
  switch (event.kind) {
    case 'tempo':
      return { type: 'setTempo', microsecondsPerBeat: event.microsecondsPerCrotchet };
    case 'timeSignature':
      return {
        type: 'timeSignature',
        numerator: event.count,
        denominator: event.unit,
        metronome: event.clocksPerClick ?? 24,
        thirtyseconds: 8,
      };
    case 'keySignature':
      return { type: 'keySignature', key: event.fifths, scale: event.minor ? 1 : 0 };
    case 'text':
    case 'trackName':
      return { type: event.kind, text: event.text };
    case 'copyright':
      return { type: 'copyrightNotice', text: event.text };
    case 'lyric':
      return { type: 'lyrics', text: event.text };
    case 'marker':
      return { type: 'marker', text: event.text };
    case 'programChange':
      return { type: 'programChange', channel: event.channel - 1, programNumber: event.program };
    case 'controlChange':
      return {
        type: 'controller',
        channel: event.channel - 1,
        controllerType: event.control,
        value: event.value,
      };
    case 'noteOn':
    case 'noteOff':
      return {
        // A note-on with velocity 0 is a note-off: the reader says so.
        type: event.velocity === 0 ? 'noteOff' : event.kind,
        channel: event.channel - 1,
        noteNumber: event.key,
        velocity: event.velocity,
      };
    case 'pitchBend':
      return { type: 'pitchBend', channel: event.channel - 1, value: event.bend };
    default:
      return event satisfies never;
  }
};

const channel = fc.integer({ min: 1, max: 16 });
const seven = fc.integer({ min: 0, max: 127 });
const tick = fc.integer({ min: 0, max: 100_000 });
const ascii = fc.string({ maxLength: 150, unit: 'grapheme-ascii' });
const events: fc.Arbitrary<MidiEvent> = fc.oneof(
  fc.record({
    kind: fc.constant('tempo' as const),
    tick,
    microsecondsPerCrotchet: fc.integer({ min: 1, max: 0xffffff }),
  }),
  fc.record({
    kind: fc.constant('timeSignature' as const),
    tick,
    count: fc.integer({ min: 1, max: 255 }),
    unit: fc.constantFrom(1, 2, 4, 8, 16),
    clocksPerClick: fc.integer({ min: 1, max: 255 }),
  }),
  fc.record({
    kind: fc.constant('keySignature' as const),
    tick,
    fifths: fc.integer({ min: -7, max: 7 }),
    minor: fc.boolean(),
  }),
  fc.record({
    kind: fc.constantFrom('text', 'copyright', 'trackName', 'lyric', 'marker'),
    tick,
    text: ascii,
  }),
  fc.record({ kind: fc.constant('programChange' as const), tick, channel, program: seven }),
  fc.record({ kind: fc.constant('controlChange' as const), tick, channel, control: seven, value: seven }),
  fc.record({ kind: fc.constantFrom('noteOn', 'noteOff'), tick, channel, key: seven, velocity: seven }),
  fc.record({
    kind: fc.constant('pitchBend' as const),
    tick,
    channel,
    bend: fc.integer({ min: -8192, max: 8191 }),
  }),
);

test('an independent reader reads back what was written, with and without running status', () => {
  const tracks = fc.array(fc.array(events, { maxLength: 40 }), { minLength: 1, maxLength: 4 });
  fc.assert(
    fc.property(tracks, fc.boolean(), fc.integer({ min: 1, max: 0x7fff }), (all, runningStatus, ticks) => {
      const song: MidiSong = { format: 1, ticksPerCrotchet: ticks, tracks: all.map((e) => ({ events: e })) };
      const read = parseMidi(writeMidi(song, { runningStatus }));
      expect(read.header).toMatchObject({ format: 1, numTracks: all.length, ticksPerBeat: ticks });
      all.forEach((track, t) => {
        let now = 0;
        const found = (read.tracks[t] ?? []).map((e) => {
          now += e.deltaTime;
          return { at: now, event: e };
        });
        const sorted = track.toSorted((a, b) => a.tick - b.tick);
        expect(found).toHaveLength(sorted.length + 1);
        sorted.forEach((e, i) => {
          expect(found[i]?.at).toBe(e.tick);
          expect(found[i]?.event).toMatchObject(asRead(e));
        });
        expect(found.at(-1)?.event.type).toBe('endOfTrack');
      });
    }),
    { seed: 20263, numRuns: 150 },
  );
});

test('text beyond ASCII is UTF-8, and a track may end after its last event', () => {
  const bytes = writeMidi({
    format: 0,
    ticksPerCrotchet: 480,
    tracks: [{ events: [{ kind: 'trackName', tick: 0, text: 'é♭𝄞\ud800' }], end: 200 }],
  });
  const text = Buffer.from('é♭𝄞\ufffd', 'utf8');
  expect(hex(bytes)).toContain(`FF 03 ${hex([text.length])} ${hex(text)} 81 48 FF 2F 00`);
});
