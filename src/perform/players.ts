import { midiNumber, seconds } from '../core/index.ts';
import { type Chord, formatChord } from '../music/index.ts';
import type { BackingStroke } from './patterns.ts';
import type { Player } from './settings.ts';
import { DRUM, type TimedNote } from './timeline.ts';
import { bassNote, guitarVoicing, leadingBass, pianoVoicing } from './voicing.ts';

/** From one moment to another, in seconds. */
export type Span = readonly [start: number, end: number];

/** A stroke of the backing with its chord and time. */
export interface BackingMoment {
  readonly stroke: BackingStroke;
  readonly chord: Chord;
  /** The chord begins here. */
  readonly fresh: boolean;
  /** What a leading bass note leads to, and the notes of the key that it may come from, as chromas. */
  readonly next: Chord;
  readonly scale: readonly number[];
  readonly time: Span;
  /** From one string of a stroke to the next, seconds. */
  readonly spread: number;
}

/** Strings that an up-stroke touches. Common practice: the thin ones. */
const UP_STRINGS = 3;
/** Strings that a light down-stroke touches. Common practice. */
const DOWN_STRINGS = 4;
/** The guitar's bass string under the bass; the piano's left hand likewise. Ours. */
const LOW_SHARE = 0.8;
/** Two that play chords play softer each. Ours: together about as loud as one. */
const SHARED = 0.86;
/** The piano's chord under a light up-stroke. Ours. */
const LIGHT_KEYS = 0.85;
const CLOSING_LEVEL = { bass: 0.58, guitar: 0.5, piano: 0.48, drum: 0.5 } as const;
/** Each string of a stroke a little softer than the one before. Ours. */
const STRING_FALL = 0.01;
/** A hand does not press all keys at once: seconds from one to the next. Ours. */
const KEY_SPREAD = 0.004;
const OCTAVE = 12;

const sound = (voice: Player, midi: number, [start, end]: Span, level: number): TimedNote => ({
  voice,
  start: seconds(start),
  length: seconds(Math.max(0.01, end - start)),
  midi: midiNumber(midi),
  level,
  attack: voice === 'drum' ? 'hit' : 'pluck',
});

/** A chord's notes in the order in which a hand meets them, each a little later and softer. */
const spreadOut = (
  voice: 'guitar' | 'piano',
  notes: readonly number[],
  [start, end]: Span,
  { level, spread }: { readonly level: number; readonly spread: number },
): readonly TimedNote[] =>
  notes.map((midi, i) => {
    const from = start + i * spread;
    return sound(voice, midi, [from, Math.max(end, from + spread)], level - i * STRING_FALL);
  });

/** A chord broken upwards, tone after tone, all ringing to the end; as many as there is time for. */
const broken = (
  voice: 'guitar' | 'piano',
  notes: readonly number[],
  [start, end]: Span,
  level: number,
): readonly TimedNote[] => {
  const step = (end - start) / (notes.length + 1);
  return notes.map((midi, i) => sound(voice, midi, [start + i * step, end], level));
};

/** What the players of one track remember from stroke to stroke. */
interface Hands {
  readonly players: readonly Player[];
  /** On the level of whoever plays chords. */
  readonly share: number;
  /** Voicings found so far, by instrument, chord and the voicing before. */
  readonly found: Map<string, readonly number[]>;
  strings: readonly number[];
  keys: readonly number[];
  chord: string;
  bassTurn: number;
  /** The guitar's last bass string and when it was plucked: a stroke at the same moment leaves it out. */
  low: { readonly midi: number; readonly start: number } | null;
}

const voiced = (
  { found }: Hands,
  voice: 'guitar' | 'piano',
  chord: Chord,
  before: readonly number[],
): readonly number[] => {
  const key = `${voice} ${formatChord(chord)} ${before.join(',')}`;
  const notes = found.get(key) ?? (voice === 'guitar' ? guitarVoicing : pianoVoicing)(chord, before);
  found.set(key, notes);
  return notes;
};

/** The hands go to a chord, where they are not there yet. */
const take = (hands: Hands, chord: Chord): void => {
  const name = formatChord(chord);
  if (name === hands.chord) return;
  if (hands.players.includes('guitar')) hands.strings = voiced(hands, 'guitar', chord, hands.strings);
  if (hands.players.includes('piano')) hands.keys = voiced(hands, 'piano', chord, hands.keys);
  hands.chord = name;
  hands.bassTurn = 0;
};

/** A bass note: the bass's own, the guitar's low string and the piano's left hand above it. */
const bassAt = (hands: Hands, midi: number, time: Span, level: number): readonly TimedNote[] => {
  const { players, share, strings } = hands;
  const string = strings.find((p) => p % OCTAVE === midi % OCTAVE) ?? midi + OCTAVE;
  if (players.includes('guitar')) hands.low = { midi: string, start: time[0] };
  const above = level * LOW_SHARE;
  return players.flatMap((player) => {
    if (player === 'bass') return [sound('bass', midi, time, level)];
    if (player === 'guitar') return [sound('guitar', string, time, above)];
    return player === 'piano' ? [sound('piano', midi + OCTAVE, time, above * share)] : [];
  });
};

/** Root and fifth in turns. */
const nextBass = (hands: Hands, chord: Chord, time: Span, level: number): readonly TimedNote[] => {
  const turn = hands.bassTurn;
  hands.bassTurn += 1;
  return bassAt(hands, bassNote(chord, turn), time, level);
};

const chordAt = (
  { players, share, keys }: Hands,
  { time, spread, stroke }: BackingMoment,
  strings: readonly number[],
): readonly TimedNote[] => {
  const level = stroke.level * share;
  const light = stroke.kind === 'up' ? LIGHT_KEYS : 1;
  return [
    ...(players.includes('guitar') ? spreadOut('guitar', strings, time, { level, spread }) : []),
    ...(players.includes('piano')
      ? spreadOut('piano', keys, time, { level: level * light, spread: KEY_SPREAD })
      : []),
  ];
};

const played = (hands: Hands, moment: BackingMoment): readonly TimedNote[] => {
  const { stroke, chord, time } = moment;
  const { players, share } = hands;
  take(hands, chord);
  switch (stroke.kind) {
    case 'bass':
      return nextBass(hands, chord, time, stroke.level);
    case 'lead':
      return bassAt(hands, leadingBass(moment.next, bassNote(chord, 0), moment.scale), time, stroke.level);
    case 'down': {
      const below = moment.fresh && hands.bassTurn === 0 ? nextBass(hands, chord, time, stroke.level) : [];
      const ringing = hands.low?.start === time[0] ? hands.low.midi : null;
      const free = hands.strings.slice(-DOWN_STRINGS).filter((midi) => midi !== ringing);
      return [...below, ...chordAt(hands, moment, free)];
    }
    case 'up':
      return chordAt(hands, moment, hands.strings.slice(-UP_STRINGS).toReversed());
    case 'broken':
      return [
        ...(players.includes('guitar') ? broken('guitar', hands.strings, time, stroke.level * share) : []),
        ...(players.includes('piano') ? broken('piano', hands.keys, time, stroke.level * share) : []),
      ];
    case 'low':
    case 'high':
    case 'tap':
      return players.includes('drum') ? [sound('drum', DRUM[stroke.kind], time, stroke.level)] : [];
    default:
      return stroke.kind satisfies never;
  }
};

const closed = (hands: Hands, chord: Chord, time: Span, spread: number): readonly TimedNote[] => {
  take(hands, chord);
  const root = bassNote(chord, 0);
  return hands.players.flatMap((player): readonly TimedNote[] => {
    const level = CLOSING_LEVEL[player];
    switch (player) {
      case 'bass':
        return [sound('bass', root, time, level)];
      case 'drum':
        return [sound('drum', DRUM.low, time, level)];
      case 'guitar':
        return spreadOut('guitar', hands.strings, time, { level: level * hands.share, spread });
      case 'piano':
        return spreadOut('piano', [root + OCTAVE, ...hands.keys], time, {
          level: level * hands.share,
          spread: KEY_SPREAD,
        });
      default:
        return player satisfies never;
    }
  });
};

/** The players of one track. */
export interface Players {
  /** What sounds at a moment. */
  readonly play: (moment: BackingMoment) => readonly TimedNote[];
  /** The closing chord, held. */
  readonly close: (chord: Chord, time: Span, spread: number) => readonly TimedNote[];
}

/** Players who begin a track: hands empty, no chord yet. */
export const playersOf = (players: readonly Player[]): Players => {
  const hands: Hands = {
    players,
    share: players.includes('guitar') && players.includes('piano') ? SHARED : 1,
    found: new Map(),
    strings: [],
    keys: [],
    chord: '',
    bassTurn: 0,
    low: null,
  };
  return {
    play: (moment) => played(hands, moment),
    close: (chord, time, spread) => closed(hands, chord, time, spread),
  };
};
