import fc from 'fast-check';
import { parseMidi, type MidiEvent as ReadEvent } from 'midi-file';
import { describe, expect, test } from 'vitest';
import { midiNumber, type Seconds, seconds, wholeNotes } from '../core/index.ts';
import { keyOf, type Metre, metre, pitchClass } from '../music/index.ts';
import { readAbc, writeMidi } from '../notation/index.ts';
import {
  type TempoChange,
  type TimedBar,
  type TimedNote,
  type Timeline,
  timelineOf,
  type Voice,
} from '../perform/index.ts';
import { type MidiAbout, midiSongOf } from './midiSong.ts';

const ABOUT: MidiAbout = {
  title: 'The Copper Kettle',
  key: keyOf(pitchClass('D'), 'mixolydian'),
  metre: metre(4, 4),
};
const timeline = (parts: Partial<Timeline>): Timeline => ({
  notes: [],
  bars: [],
  beats: [],
  tempo: [],
  length: seconds(10),
  ...parts,
});
const note = (start: number, length: number, midi = 69, more: Partial<TimedNote> = {}): TimedNote => ({
  voice: 'fiddle',
  start: seconds(start),
  length: seconds(length),
  midi: midiNumber(midi),
  level: 0.7,
  attack: 'bow',
  ...more,
});
const tempo = (start: number, beatsPerMinute: number, beat = wholeNotes(1, 2)): TempoChange => ({
  start: seconds(start),
  at: wholeNotes(0),
  beat,
  beatsPerMinute,
});
const bar = (
  start: number,
  end: number,
  part: string,
  index: number,
  number?: string,
  pass = 0,
): TimedBar => ({
  start: seconds(start),
  end: seconds(end),
  part,
  bar: index,
  pass,
  ...(number === undefined ? {} : { number }),
});

/** An event with the second at which a player that knows only the file reaches it, and the length of a tick there. */
interface Heard {
  readonly at: number;
  readonly tick: number;
  readonly tickLength: number;
  readonly track: number;
  readonly event: ReadEvent;
}

/** Plays the bytes: ticks to seconds by the published formula, ticks × (µs a crotchet ÷ division). */
const play = (bytes: Uint8Array): readonly Heard[] => {
  const { header, tracks } = parseMidi(bytes);
  const division = header.ticksPerBeat ?? 0;
  const placed = tracks.flatMap((events, track) => {
    let tick = 0;
    return events.map((event) => {
      tick += event.deltaTime;
      return { tick, track, event };
    });
  });
  const changes = placed.flatMap(({ tick, event }) =>
    event.type === 'setTempo' ? [{ tick, tempo: event.microsecondsPerBeat }] : [],
  );
  return placed.map(({ tick, track, event }) => {
    let at = 0;
    let last = { tick: 0, tempo: 500_000 };
    for (const change of [...changes.filter((c) => c.tick <= tick), { tick, tempo: -1 }]) {
      at += ((change.tick - last.tick) * last.tempo) / division / 1e6;
      if (change.tempo > 0) last = change;
    }
    return { at, tick, tickLength: last.tempo / division / 1e6, track, event };
  });
};
const heard = (line: Timeline, about = ABOUT): readonly Heard[] => play(writeMidi(midiSongOf(line, about)));
const onsets = (all: readonly Heard[]) => all.filter(({ event }) => event.type === 'noteOn');

test('every note sounds when the timeline says, within a tick, whatever the tempo does', () => {
  const times = fc.double({ min: 0, max: 600, noNaN: true });
  const changes = fc.array(
    fc.record({
      start: times,
      bpm: fc.double({ min: 20, max: 300, noNaN: true }),
      beat: fc.constantFrom(wholeNotes(1, 4), wholeNotes(3, 8), wholeNotes(1, 2)),
    }),
    { minLength: 1, maxLength: 8 },
  );
  // A key of its own for every note: what happens where one key is struck twice has its own test below.
  const notes = fc.array(fc.tuple(times, fc.double({ min: 0.02, max: 2, noNaN: true })), {
    minLength: 1,
    maxLength: 60,
  });
  fc.assert(
    fc.property(changes, notes, (written, sounding) => {
      const line = timeline({
        tempo: written.map((c) => tempo(c.start, c.bpm, c.beat)),
        notes: sounding.map(([start, length], i) => note(start, length, 30 + i)),
        length: seconds(602),
      });
      const all = heard(line);
      for (const n of line.notes) {
        const mine = all.filter(({ event }) => 'noteNumber' in event && event.noteNumber === n.midi);
        const on = mine.find(({ event }) => event.type === 'noteOn');
        const off = mine.find(({ event }) => event.type === 'noteOff');
        expect(Math.abs((on?.at ?? -1) - n.start)).toBeLessThanOrEqual(on?.tickLength ?? 0);
        expect(Math.abs((off?.at ?? -1) - n.start - n.length)).toBeLessThanOrEqual(off?.tickLength ?? 0);
      }
      const ends = all.filter(({ event }) => event.type === 'endOfTrack');
      for (const end of ends) expect(Math.abs(end.at - 602)).toBeLessThanOrEqual(end.tickLength);
    }),
    { seed: 20264, numRuns: 60 },
  );
});

test('after ten minutes at 107 minims a minute the last note is still within a tick', () => {
  const beat = 60 / 107;
  const line = timeline({
    tempo: [tempo(0, 107)],
    notes: Array.from({ length: 4000 }, (_, i) => note((i * beat) / 4, beat / 5)),
    length: seconds(600),
  });
  const all = onsets(heard(line));
  expect(all).toHaveLength(4000);
  const worst = all.map(({ at, tickLength }, i) => Math.abs(at - (i * beat) / 4) / tickLength);
  expect(Math.max(...worst)).toBeLessThanOrEqual(0.501);
});

describe('a tune as it is played', () => {
  const tunes = readAbc(
    `X:1\nT:Hornpipe\nR:hornpipe\nM:4/4\nL:1/8\nK:G\n(3DEF|:G2 BG {a}d>GBd|~g3 f [Ge]2 (3dcB|c2 ec AcBA|1 G2 G2 G2 DF:|2 G2 G2 G4|]
X:2\nT:Jig\nR:jig\nM:6/8\nL:1/8\nK:Ador\nE|:A2B c2d|!slide!e3 {fg}e2d|BAG GFG|A3 A2E:|]`,
  ).tunes;
  test.each(tunes.map(({ score }) => [score.number, score] as const))(
    'X:%i keeps every onset and length of its timeline, ornaments and swing included',
    (_, score) => {
      const line = timelineOf(score, { beatsPerMinute: 73, melody: true, backing: null, countIn: false });
      const all = heard(line, { title: 'Tune', key: score.key, metre: score.metre, score });
      const ons = onsets(all).toSorted((a, b) => a.at - b.at);
      const notes = line.notes.toSorted((a, b) => a.start - b.start);
      expect(notes.length).toBeGreaterThan(40);
      expect(ons).toHaveLength(notes.length);
      notes.forEach((n, i) => {
        const on = ons[i];
        expect(Math.abs((on?.at ?? -1) - n.start)).toBeLessThanOrEqual(on?.tickLength ?? 0);
      });
      const keysOf = (list: readonly number[]): readonly number[] => list.toSorted((a, b) => a - b);
      expect(keysOf(ons.map(({ event }) => ('noteNumber' in event ? event.noteNumber : -1)))).toEqual(
        keysOf(notes.map((n) => n.midi)),
      );
      const offs = all.filter(({ event }) => event.type === 'noteOff');
      for (const n of notes) {
        const end = n.start + n.length;
        const nearest = offs
          .filter(({ event }) => 'noteNumber' in event && event.noteNumber === n.midi)
          .reduce((best, { at }) => Math.min(best, Math.abs(at - end)), Number.POSITIVE_INFINITY);
        expect(nearest).toBeLessThanOrEqual(0.001);
      }
      const markers = all.flatMap(({ event }) => (event.type === 'marker' ? [event.text] : []));
      expect(markers.slice(0, 4)).toEqual(['A1', 'A2', 'A3', 'A4']);
    },
  );
});

describe('voices', () => {
  // Source: General MIDI level 1: 41 violin, 26 steel guitar, 1 grand piano, 33 acoustic bass (from 1); drums on 10.
  test.each([
    ['fiddle', 1, 40],
    ['guitar', 3, 25],
    ['piano', 4, 0],
    ['bass', 5, 32],
    ['drum', 10, undefined],
    ['click', 10, undefined],
  ] as const)('%s sounds on channel %i with program %s', (voice: Voice, channel, program) => {
    const all = heard(timeline({ tempo: [tempo(0, 60)], notes: [note(1, 0.5, 64, { voice })] }));
    const [on] = onsets(all);
    expect(on?.event).toMatchObject({ channel: channel - 1, noteNumber: 64, velocity: 89 });
    const programs = all.flatMap(({ event }) => (event.type === 'programChange' ? [event] : []));
    expect(programs.map((p) => p.programNumber)).toEqual(program === undefined ? [] : [program]);
  });
  test('silent voices have no track, each that sounds has one', () => {
    const notes = [note(0, 1), note(0, 1, 45, { voice: 'bass' }), note(0, 0.1, 76, { voice: 'click' })];
    const song = midiSongOf(timeline({ notes }), ABOUT);
    const names = song.tracks.map((t) => t.events.find((e) => e.kind === 'trackName'));
    expect(names.map((n) => n !== undefined && 'text' in n && n.text)).toEqual([
      'The Copper Kettle',
      'Fiddle',
      'Bass',
      'Click',
    ]);
  });
});

describe('the fiddle', () => {
  test('a drone of the same pitch sounds beside the melody', () => {
    const notes = [note(0, 0.5, 69), note(0, 0.5, 69, { beside: true })];
    const channels = onsets(heard(timeline({ notes }))).map(
      ({ event }) => 'channel' in event && event.channel,
    );
    expect(channels.toSorted()).toEqual([0, 1]);
  });
  test('a key struck again while it sounds ends first, and is never left hanging', () => {
    const notes = [note(0, 1, 69), note(0.5, 1, 69), note(0.5, 0.2, 69)];
    const all = heard(timeline({ notes })).filter(({ event }) => /^note/.test(event.type));
    expect(all.map(({ at, event }) => `${event.type} ${at.toFixed(3)}`)).toEqual([
      'noteOn 0.000',
      'noteOff 0.500',
      'noteOn 0.500',
      'noteOff 1.500',
    ]);
  });
  test('a slide from a semitone below bends up into the note and stays there', () => {
    const slide = note(1, 1, 69, { glideFrom: -1, glideTime: seconds(0.08) });
    const all = heard(timeline({ tempo: [tempo(0, 60)], notes: [note(0, 1, 67), slide] }));
    const bends = all.flatMap(({ at, event }) =>
      event.type === 'pitchBend' ? [{ at, value: event.value }] : [],
    );
    expect(bends[0]?.value).toBe(-4096);
    expect(bends[0]?.at).toBeCloseTo(1, 3);
    expect(bends.at(-1)?.value).toBe(0);
    expect(bends.at(-1)?.at).toBeCloseTo(1.08, 3);
    const values = bends.map((b) => b.value);
    expect(values).toEqual(values.toSorted((a, b) => a - b));
    const order = all
      .filter(({ at, track }) => track === 1 && Math.abs(at - 1) < 1e-6)
      .map((h) => h.event.type);
    expect(order).toEqual(['noteOff', 'pitchBend', 'noteOn']);
  });
});

describe('what the file says', () => {
  const bars = [
    bar(0, 0.5, 'A', 0),
    bar(0.5, 2.5, 'A', 1, '1'),
    bar(2.5, 4.25, 'A', 2, '2'),
    bar(4.25, 4.5, 'B', 0),
    bar(4.5, 6.5, 'B', 1, '3'),
    bar(6.5, 8.5, 'B', 1, '3', 1),
  ];
  const all = heard(timeline({ tempo: [tempo(0, 60)], bars, notes: [note(0, 8)] }));
  test('a marker stands at each numbered bar, by its place in the part', () => {
    const markers = all.flatMap(({ at, event }) => (event.type === 'marker' ? [`${event.text} ${at}`] : []));
    expect(markers).toEqual(['A1 0.5', 'A2 2.5', 'B1 4.5', 'B1 6.5']);
  });
  test('a pick-up at the start is a bar of its own length', () => {
    const metres = all.flatMap(({ at, event }) =>
      event.type === 'timeSignature' ? [`${event.numerator}/${event.denominator} at ${at}`] : [],
    );
    expect(metres).toEqual(['1/4 at 0', '4/4 at 0.5']);
  });
  test('a swung pick-up fits its printed length, so that the bars after it lie on the file’s bars', () => {
    const swung = [bar(0, 0.21, 'A', 0), bar(0.21, 2.21, 'A', 1, '1'), bar(2.21, 4.21, 'A', 2, '2')];
    const notes = [note(0, 0.21), note(0.21, 1), note(2.21, 1)];
    const events = heard(timeline({ tempo: [tempo(0, 60)], bars: swung, notes }));
    const ticks = events.flatMap(({ tick, event }) => (event.type === 'marker' ? [tick] : []));
    expect(ticks).toEqual([480, 480 + 4 * 960]);
    expect(onsets(events).map(({ at }) => Number(at.toFixed(4)))).toEqual([0, 0.21, 2.21]);
  });
  test('a pick-up after a count-in completes a bar', () => {
    const later = [bar(1.5, 2, 'A', 0), bar(2, 4, 'A', 1, '1')];
    const events = heard(timeline({ tempo: [tempo(0, 60)], bars: later, notes: [note(1.5, 1)] }));
    const metres = events.flatMap(({ at, event }) =>
      event.type === 'timeSignature' ? [`${event.numerator}/${event.denominator} at ${at}`] : [],
    );
    expect(metres).toEqual(['4/4 at 0']);
  });
  test('the tempo is in crotchets, the key in sharps', () => {
    const found = all.flatMap(({ event }) =>
      event.type === 'setTempo' || event.type === 'keySignature' ? [event] : [],
    );
    expect(found).toMatchObject([
      { type: 'setTempo', microsecondsPerBeat: 500_000 },
      { type: 'keySignature', key: 1, scale: 0 },
    ]);
  });
  test.each([
    ['a jig clicks in dotted crotchets', metre(6, 8), 36],
    ['a reel in crotchets', metre(4, 4), 24],
    ['a slow reel in minims', metre(2, 2), 48],
  ])('%s', (_, m: Metre, clocks) => {
    const events = heard(timeline({ notes: [note(0, 1)] }), { ...ABOUT, metre: m });
    const found = events.flatMap(({ event }) => (event.type === 'timeSignature' ? [event.metronome] : []));
    expect(found).toEqual([clocks]);
  });
  test('an air without metre or tempo, in a key of its own, says neither', () => {
    const key = { ...ABOUT.key, accidentals: { ...ABOUT.key.accidentals, F: 1, B: -1 } } as const;
    const events = heard(timeline({ notes: [note(0.25 as Seconds, 1)] }), {
      ...ABOUT,
      key,
      metre: { kind: 'free' },
    });
    expect(events.filter(({ event }) => /Signature/.test(event.type))).toEqual([]);
    expect(onsets(events)[0]?.at).toBeCloseTo(0.25, 3);
  });
  test('credit and remarks are in the first track', () => {
    const song = midiSongOf(timeline({}), {
      ...ABOUT,
      rights: 'Trad.',
      texts: ['Reel', 'As played at home'],
    });
    expect(song.tracks[0]?.events).toEqual(
      expect.arrayContaining([
        { kind: 'copyright', tick: 0, text: 'Trad.' },
        { kind: 'text', tick: 0, text: 'As played at home' },
      ]),
    );
  });
});
