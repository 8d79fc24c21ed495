import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { writeAbc } from '../abc/index.ts';
import type { MidiEvent, MidiSong } from './midiSong.ts';
import { readMidi } from './reading/readMidi.ts';
import { readMidiSong } from './reading/readMidiSong.ts';
import { writeMidi } from './writeMidi.ts';

const CROTCHET = 480;

/** Notes in short: "62/1 64/0.5 -/0.5": key and crotchets; held for nine tenths of their time. */
const played = (text: string, share = 0.9): readonly MidiEvent[] => {
  let at = 0;
  return text
    .trim()
    .split(/\s+/)
    .flatMap((word): readonly MidiEvent[] => {
      const [key = '', length = '1'] = word.split('/');
      const start = Math.round(at * CROTCHET);
      at += Number(length);
      if (key === '-') return [];
      const end = start + Math.round(Number(length) * share * CROTCHET);
      const on = { channel: 1, key: Number(key), velocity: 90 };
      return [
        { kind: 'noteOn', tick: start, ...on },
        { kind: 'noteOff', tick: end, ...on },
      ];
    });
};

const songOf = (text: string, header: readonly MidiEvent[] = [], share?: number): MidiSong => ({
  format: 1,
  ticksPerCrotchet: CROTCHET,
  tracks: [
    { events: [{ kind: 'trackName', tick: 0, text: 'A Made Tune' }, ...header] },
    { events: played(text, share) },
  ],
});

const abcOf = (song: MidiSong): string => {
  const { score } = readMidi(writeMidi(song));
  return score === null ? '' : writeAbc(score);
};
const musicOf = (song: MidiSong): string => abcOf(song).split('\n').slice(-2)[0] ?? '';

const IN_D: readonly MidiEvent[] = [{ kind: 'keySignature', tick: 0, fifths: 2, minor: false }];
const JIG: readonly MidiEvent[] = [...IN_D, { kind: 'timeSignature', tick: 0, count: 6, unit: 8 }];

describe('a melody in a MIDI file is written down', () => {
  test('with title, key, metre and tempo', () => {
    const header: readonly MidiEvent[] = [
      ...IN_D,
      { kind: 'tempo', tick: 0, microsecondsPerCrotchet: 500_000 },
    ];
    expect(abcOf(songOf('62/1 64/1 66/1 62/1', header))).toBe(
      'X:1\nT:A Made Tune\nM:4/4\nL:1/8\nQ:1/4=120\nK:D\nD2 E2 F2 D2 |\n',
    );
  });
  test.each<{ what: string; song: MidiSong; music: string }>([
    {
      what: 'detached notes are no rests',
      song: songOf('62/1 64/1 66/1 62/1', IN_D, 0.6),
      music: 'D2 E2 F2 D2 |',
    },
    { what: 'a rest is one', song: songOf('62/1 -/1 66/1 62/1', IN_D), music: 'D2 z2 F2 D2 |' },
    {
      what: 'swing is taken out',
      song: songOf(Array(4).fill('62/0.6 64/0.4 66/0.6 64/0.4').join(' '), IN_D),
      music: 'DEFE DEFE | DEFE DEFE |',
    },
    {
      what: 'a triplet stays',
      song: songOf('62/0.3333 64/0.3333 66/0.3334 62/1 69/2', IN_D),
      music: '(3DEF D2 A4 |',
    },
    {
      what: 'a short key is a grace note',
      song: songOf('62/1 67/0.1 64/0.9 66/2', IN_D),
      music: 'D2 {G}E2 F4 |',
    },
    {
      what: 'short strokes on one key are a treble',
      song: songOf('62/1 69/0.15 69/0.15 69/0.7 66/2', IN_D),
      music: 'D2 (3AAA F4 |',
    },
    {
      what: 'a last note that rings on is no bar of its own',
      song: songOf('62/2 66/2.5', IN_D),
      music: 'D4 F4 |',
    },
    { what: 'a pick-up', song: songOf('-/3 62/1 66/2 69/2', IN_D), music: 'D2 | F4 A4 |' },
    {
      what: 'a note over the bar line is tied',
      song: songOf('62/3 66/2 69/3', IN_D),
      music: 'D6 F2- | F2 A6 |',
    },
    {
      what: 'quavers of a jig',
      song: songOf('62/0.5 64/0.5 66/0.5 69/1 66/0.5', JIG),
      music: 'DEF A2 F |',
    },
    { what: 'sharps in a sharp key', song: songOf('62/1 63/1 64/2', IN_D), music: 'D2 ^D2 E4 |' },
  ])('$what', ({ song, music }) => expect(musicOf(song)).toBe(music));

  test('the mode is judged by the last note, the key by all where none is named', () => {
    expect(
      abcOf(songOf('64/1 66/1 67/1 69/1', [{ kind: 'keySignature', tick: 0, fifths: 1, minor: false }])),
    ).toContain('K:Ador');
    expect(abcOf(songOf('67/1 71/1 74/1 78/1 76/1 72/1 69/1 67/1'))).toContain('K:G');
  });

  test('what is played twice is written once with repeats, a whole tune too', () => {
    const a = '62/1 64/1 66/1 62/1 64/1 66/1 69/2 71/2 69/2 66/1 64/1 62/2 ';
    const b = '74/1 73/1 71/1 69/1 66/2 69/2 71/1 69/1 66/1 64/1 66/2 62/2 ';
    const text = abcOf(songOf((a + a + b + b).repeat(2), IN_D));
    expect(text.split('\n').slice(5)).toEqual([
      '|: D2 E2 F2 D2 | E2 F2 A4 | B4 A4 | F2 E2 D4 :|',
      '|: d2 c2 B2 A2 | F4 A4 | B2 A2 F2 E2 | F4 D4 :|',
      '',
    ]);
  });

  test('of several voices the fiddle is taken, and the others are named', () => {
    const bass = played('38/2 45/2 38/2 45/2').map((e) => ('channel' in e ? { ...e, channel: 2 } : e));
    const song: MidiSong = {
      format: 1,
      ticksPerCrotchet: CROTCHET,
      tracks: [
        { events: [{ kind: 'trackName', tick: 0, text: 'Bass' }, ...bass] },
        { events: [{ kind: 'trackName', tick: 0, text: 'Fiddle' }, ...played('62/1 64/1 66/1 62/1')] },
      ],
    };
    const { score, diagnostics } = readMidi(writeMidi(song));
    expect(score === null ? '' : writeAbc(score)).toContain('D2 E2 F2 D2');
    expect(diagnostics[0]?.message).toMatch(/Read as the tune: "Fiddle"; left out: "Bass"/);
  });
});

describe('bytes', () => {
  // Source: Standard MIDI Files 1.0 (RP-001, 1996), "Conventions" and "Meta-events".
  test('what is written is read', () => {
    const song = songOf('62/1 64/0.5 -/0.5 66/1', [
      ...JIG.map((e) => (e.kind === 'timeSignature' ? { ...e, clocksPerClick: 24 } : e)),
      { kind: 'tempo', tick: 0, microsecondsPerCrotchet: 410_000 },
    ]);
    const read = readMidiSong(writeMidi(song));
    expect(read.kind === 'song' && !read.cut && read.song.ticksPerCrotchet).toBe(CROTCHET);
    const events = (s: MidiSong) =>
      s.tracks.map((t) => t.events.map((e) => JSON.stringify(Object.entries(e).toSorted())).toSorted());
    expect(read.kind === 'song' && events(read.song)).toEqual(events(song));
  });
  test('running status, unknown chunks, exclusive messages', () => {
    const track = [
      0, 0xf0, 2, 1, 0xf7, 0, 0x90, 62, 90, 0x83, 0x60, 62, 0, 0, 64, 90, 0x83, 0x60, 64, 0, 0, 0xff, 0x2f, 0,
    ];
    const bytes = [
      ...'MThd',
      0,
      0,
      0,
      6,
      0,
      0,
      0,
      1,
      1,
      0xe0,
      ...'XFIH',
      0,
      0,
      0,
      1,
      9,
      ...'MTrk',
      0,
      0,
      0,
      track.length,
      ...track,
    ];
    const file = new Uint8Array(bytes.map((b) => (typeof b === 'string' ? b.charCodeAt(0) : b)));
    const { score } = readMidi(file);
    expect(score === null ? '' : writeAbc(score)).toMatch(/D2 E2/);
  });
  test.each<[string, number, RegExp]>([
    ['format 2', 9, /format 2/],
    ['film frames', 12, /film frames/],
  ])('%s is refused in a sentence', (_, at, message) => {
    const bytes = writeMidi(songOf('62/1'));
    bytes[at] = at === 9 ? 2 : 0xe7;
    expect(readMidi(bytes).diagnostics[0]?.message).toMatch(message);
  });
  test('a file that breaks off is read as far as it goes', () => {
    const bytes = writeMidi(songOf('62/1 64/1 66/1 62/1'));
    const { score, diagnostics } = readMidi(bytes.subarray(0, bytes.length - 12));
    expect(score).not.toBeNull();
    expect(diagnostics.map((d) => d.code)).toContain('cut-short');
  });
  test('no bytes make the reader fail', () => {
    const whole = writeMidi(songOf('62/0.5 64/0.5 66/1 -/2 67/0.3333 66/0.3333 64/0.3334 62/3', JIG));
    const spoilt = fc.array(fc.tuple(fc.nat(whole.length - 1), fc.nat(255)), { maxLength: 6 });
    let tunes = 0;
    fc.assert(
      fc.property(spoilt, fc.nat(whole.length), (changes, length) => {
        const bytes = whole.slice(0, Math.max(20, length));
        for (const [at, value] of changes) if (at < bytes.length) bytes[at] = value;
        const { score, diagnostics } = readMidi(bytes);
        if (score !== null) tunes += 1;
        expect(score === null ? diagnostics.length : score.parts.length).toBeGreaterThan(0);
      }),
      { seed: 20_273, numRuns: 400 },
    );
    expect(tunes).toBeGreaterThan(50);
  });
});
