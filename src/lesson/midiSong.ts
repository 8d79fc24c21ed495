import { type Seconds, toNumber } from '../core/index.ts';
import { type Key, type Metre, notatedBeatOf, plainFifthsOf } from '../music/index.ts';
import type { MidiEvent, MidiSong, MidiTrack } from '../notation/index.ts';
import type { TimedBar, TimedNote, Timeline, Voice } from '../perform/index.ts';
import type { Bar, Score } from '../score/index.ts';
import {
  type LeadingPickup,
  leadingPickup,
  TICKS_PER_CROTCHET,
  type TickOf,
  tempoMap,
  tickFinder,
} from './midiTempo.ts';

/** What a MIDI file says about the tune besides its notes. */
export interface MidiAbout {
  readonly title: string;
  readonly key: Key;
  readonly metre: Metre;
  /** "Trad.", a composer, a licence: goes into the copyright event. */
  readonly rights?: string;
  /** Anything else worth saying, one text event each (source, dance, who made the setting). */
  readonly texts?: readonly string[];
  /** The written tune, where keys or metres change in it. */
  readonly score?: Score;
}

/** A voice's place in the file. Notes that sound beside the melody have their own channel, so that a slide bends one string. */
interface Chair {
  readonly name: string;
  readonly channel: number;
  readonly besideChannel?: number;
  /** Absent on the percussion channel, whose keys are its instruments. */
  readonly program?: number;
}
/** Source: General MIDI level 1: sound set (programs counted from 0) and percussion on channel 10; channels otherwise ours. */
const CHAIRS: Readonly<Record<Voice, Chair>> = {
  fiddle: { program: 40, name: 'Fiddle', besideChannel: 2, channel: 1 },
  guitar: { name: 'Guitar', channel: 3, program: 25 },
  piano: { name: 'Piano', channel: 4, program: 0 },
  bass: { name: 'Bass', channel: 5, program: 32 },
  drum: { name: 'Drum', channel: 10 },
  click: { name: 'Click', channel: 10 },
};
const VOICES = ['fiddle', 'guitar', 'piano', 'bass', 'drum', 'click'] as const satisfies readonly Voice[];

/** Semitones that a full pitch bend moves; said in the file, though it is what players assume. Source: General MIDI level 1. */
const BEND_RANGE = 2;
const BEND_DEPTH = 8192;
/** A glide is written as steps of this length. Ours: below what is heard as steps. */
const GLIDE_STEP = 0.008;
/** How long a glide takes that does not say. Ours. */
const GLIDE_TIME = 0.08;

/** Registered parameter 0 (bend range) set to `BEND_RANGE`. Source: MIDI 1.0, registered parameter numbers. */
const bendRangeEvents = (channel: number): readonly MidiEvent[] =>
  [
    [101, 0],
    [100, 0],
    [6, BEND_RANGE],
    [38, 0],
  ].map(([control = 0, value = 0]) => ({ kind: 'controlChange', tick: 0, channel, control, value }));

const glideEvents = (note: TimedNote, channel: number, tickOf: TickOf): readonly MidiEvent[] => {
  if (note.glideFrom === undefined || note.glideFrom === 0) return [];
  const from = Math.max(-BEND_RANGE, Math.min(BEND_RANGE, note.glideFrom));
  const time = Math.min(note.length, note.glideTime ?? GLIDE_TIME);
  const steps = Math.max(1, Math.ceil(time / GLIDE_STEP));
  return Array.from({ length: steps + 1 }, (_, i) => ({
    kind: 'pitchBend',
    tick: tickOf((note.start + (time * i) / steps) as Seconds),
    channel,
    bend: Math.min(BEND_DEPTH - 1, Math.round(((from * (1 - i / steps)) / BEND_RANGE) * BEND_DEPTH)),
  }));
};

interface Stroke {
  readonly channel: number;
  readonly key: number;
  readonly velocity: number;
  readonly on: number;
  readonly off: number;
}

/** One key of one channel can sound only once: a new stroke ends the old, of two at one tick the longer stays. */
const withoutOverlaps = (strokes: readonly Stroke[]): readonly Stroke[] => {
  const kept: Stroke[] = [];
  const lastOn = new Map<string, number>();
  for (const stroke of strokes.toSorted((a, b) => a.on - b.on || b.off - a.off)) {
    const id = `${stroke.channel}/${stroke.key}`;
    const at = lastOn.get(id);
    const before = at === undefined ? undefined : kept[at];
    if (before?.on === stroke.on) continue;
    if (at !== undefined && before !== undefined && before.off > stroke.on)
      kept[at] = { ...before, off: stroke.on };
    lastOn.set(id, kept.length);
    kept.push(stroke);
  }
  return kept;
};

const chairTrack = (voice: Voice, notes: readonly TimedNote[], tickOf: TickOf): MidiTrack => {
  const chair = CHAIRS[voice];
  const channelOf = (note: TimedNote): number =>
    note.beside === true ? (chair.besideChannel ?? chair.channel) : chair.channel;
  const channels = [...new Set(notes.map(channelOf))].toSorted((a, b) => a - b);
  const { program } = chair;
  const setUp: MidiEvent[] = [{ kind: 'trackName', tick: 0, text: chair.name }];
  for (const channel of program === undefined ? [] : channels) {
    setUp.push({ kind: 'programChange', tick: 0, channel, program: program ?? 0 });
    if (notes.some((n) => n.glideFrom !== undefined && channelOf(n) === channel))
      setUp.push(...bendRangeEvents(channel));
  }
  const strokes = withoutOverlaps(
    notes.map((note): Stroke => {
      const on = tickOf(note.start);
      return {
        channel: channelOf(note),
        key: Math.round(note.midi),
        velocity: Math.max(1, Math.min(127, Math.round(note.level * 127))),
        on,
        off: Math.max(on + 1, tickOf((note.start + note.length) as Seconds)),
      };
    }),
  );
  const offs = strokes.map(
    (s): MidiEvent => ({ kind: 'noteOff', tick: s.off, channel: s.channel, key: s.key, velocity: 64 }),
  );
  const ons = strokes.map(
    (s): MidiEvent => ({ kind: 'noteOn', tick: s.on, channel: s.channel, key: s.key, velocity: s.velocity }),
  );
  const bends = notes.flatMap((note) => glideEvents(note, channelOf(note), tickOf));
  // At one tick: the old note ends, the bend is set, the new note begins.
  return { events: [...setUp, ...offs, ...bends, ...ons] };
};

/** "A1", "B3": the bar's place among its part's numbered bars; nothing for pick-ups and rests of bars. */
const barMarkers = (bars: readonly TimedBar[], tickOf: TickOf): readonly MidiEvent[] => {
  const numbered = bars.filter((b) => b.number !== undefined);
  const places = new Map<string, readonly number[]>();
  for (const part of new Set(numbered.map((b) => b.part))) {
    const indices = new Set(numbered.filter((b) => b.part === part).map((b) => b.bar));
    places.set(
      part,
      [...indices].toSorted((a, b) => a - b),
    );
  }
  return numbered.map((bar) => {
    const place = (places.get(bar.part)?.indexOf(bar.bar) ?? 0) + 1;
    const text = bar.part.length === 1 ? `${bar.part}${place}` : `${bar.part} ${place}`;
    return { kind: 'marker', tick: tickOf(bar.start), text };
  });
};

const timeSignature = (metre: Metre, tick: number): readonly MidiEvent[] => {
  if (metre.kind === 'free' || !Number.isInteger(Math.log2(metre.unit)) || metre.count > 255) return [];
  const clocks = Math.round(toNumber(notatedBeatOf(metre)) * 4 * 24);
  return [
    {
      kind: 'timeSignature',
      tick,
      count: metre.count,
      unit: metre.unit,
      clocksPerClick: Math.max(1, Math.min(255, clocks)),
    },
  ];
};

/** Modes other than the minor are given their sharps or flats with "major": MIDI knows no third answer. */
const keySignature = (key: Key, tick: number): readonly MidiEvent[] => {
  const fifths = plainFifthsOf(key);
  return fifths === null ? [] : [{ kind: 'keySignature', tick, fifths, minor: key.mode === 'minor' }];
};

/** Time and key signatures where they begin to hold, in the order of playing. */
const signatures = (
  timeline: Timeline,
  about: MidiAbout,
  { tickOf, pickup }: { readonly tickOf: TickOf; readonly pickup: LeadingPickup | null },
): readonly MidiEvent[] => {
  const written = (bar: TimedBar): Bar | undefined =>
    about.score?.parts.find((p) => p.label === bar.part)?.bars[bar.bar];
  const events: MidiEvent[] = [...keySignature(about.key, 0)];
  let metre: Metre | null = null;
  let key = about.key;
  timeline.bars.forEach((bar, i) => {
    const now = written(bar)?.metre ?? about.metre;
    const tick = i === 0 ? 0 : tickOf(bar.start);
    if (i === 0 && pickup !== null && now.kind !== 'free') events.push(...timeSignature(pickup.metre, tick));
    else if (metre === null || !sameMetre(metre, now)) {
      events.push(...timeSignature(now, tick));
      metre = now;
    }
    const nextKey = written(bar)?.key ?? about.key;
    if (plainFifthsOf(nextKey) !== plainFifthsOf(key) || nextKey.mode !== key.mode)
      events.push(...keySignature(nextKey, tick));
    key = nextKey;
  });
  if (timeline.bars.length === 0) events.push(...timeSignature(about.metre, 0));
  return events;
};

const sameMetre = (a: Metre, b: Metre): boolean =>
  a.kind === 'free' || b.kind === 'free' ? a.kind === b.kind : a.count === b.count && a.unit === b.unit;

/**
 * Answers "which MIDI file plays this timeline?"
 *
 * Ticks are made from the timeline's seconds through the tempo map that the file itself carries, so that a player comes
 * within half a tick of every moment however long the tune, swing and ornaments included: a cut is a short note, a slide
 * a pitch bend. Each voice has its track; the first track holds tempo, signatures and a marker a numbered bar.
 * @param timeline - what sounds; its count-in, if it has one, is written too
 * @param about - what the file says about itself
 * @returns a song of format 1 at 960 ticks a crotchet
 * @see Source: Standard MIDI Files 1.0 (RP-001, 1996); General MIDI level 1
 */
export const midiSongOf = (timeline: Timeline, about: MidiAbout): MidiSong => {
  const pickup = leadingPickup(timeline);
  const map = tempoMap(timeline.tempo, pickup);
  const tickOf = tickFinder(map);
  const end = tickOf(timeline.length);
  const conductor: readonly MidiEvent[] = [
    { kind: 'trackName', tick: 0, text: about.title },
    ...(about.rights === undefined ? [] : [{ kind: 'copyright' as const, tick: 0, text: about.rights }]),
    ...(about.texts ?? []).map((text) => ({ kind: 'text' as const, tick: 0, text })),
    ...map.map(({ tick, microsecondsPerCrotchet }) => ({
      kind: 'tempo' as const,
      tick,
      microsecondsPerCrotchet,
    })),
    ...signatures(timeline, about, { tickOf, pickup }),
    ...barMarkers(timeline.bars, tickOf),
  ];
  const voices = VOICES.map((voice) => ({ voice, notes: timeline.notes.filter((n) => n.voice === voice) }));
  const chairs = voices.filter((v) => v.notes.length > 0);
  return {
    format: 1,
    ticksPerCrotchet: TICKS_PER_CROTCHET,
    tracks: [
      { events: conductor, end },
      ...chairs.map(({ voice, notes }) => ({ ...chairTrack(voice, notes, tickOf), end })),
    ],
  };
};
