import { midiOf, type Pitch } from '../music/index.ts';
import {
  type Address,
  addressKey,
  type Bow,
  type Finger,
  type Note,
  notesOf,
  type PlacedNote,
  type Score,
} from '../score/index.ts';
import { type BowedNote, bowingOf } from './bowing.ts';
import { type Fingered, fingeringOf } from './fingering.ts';
import { everyHoldOf } from './holds.ts';
import { type FoundOrnament, ornamentsOf } from './ornaments.ts';
import type { StringName } from './strings.ts';
import { STANDARD_TUNING, STRING_NAMES } from './tuning.ts';

/** One note in the hands. */
export interface NoteInHand {
  readonly address: Address;
  readonly pitch: Pitch;
  /** Null, as its finger, where no string has the pitch or no finger is left. */
  readonly string: StringName | null;
  readonly finger: Finger | null;
  readonly bow: Bow;
  /** Whether a stroke begins on it; else the one before goes on. */
  readonly begins: boolean;
}

/** A grace note, or a note of a roll that is not written: what a finger does so quickly that no pitch is meant. */
export interface Flick {
  /** A cut falls from above, a strike lifts to what lies below; `leadIn`: of several, one from below or on the note. */
  readonly role: 'cut' | 'strike' | 'leadIn';
  readonly pitch: Pitch;
  /** The string that it sounds on: that of its note, but for written graces that can't lie there. */
  readonly string: StringName | null;
  /** The finger that stops its pitch, 0 for the open string. */
  readonly finger: Finger | null;
  /** The finger that moves: of a cut the one that falls; of a strike the note's own, which lifts and falls back. */
  readonly moves: Finger | null;
}

/** How the hands make one ornament. */
export interface OrnamentInHand {
  readonly ornament: FoundOrnament;
  /** The notes that it takes up, in order: its address range. */
  readonly notes: readonly [NoteInHand, ...NoteInHand[]];
  /** What fingers flick, in order; empty for all but graces and rolls. */
  readonly flicks: readonly Flick[];
  /** The tone beside the melody, of a drone, unison, laid finger or double stop. */
  readonly beside: NoteInHand | null;
  /** Directions of the strokes that begin in it, in order; empty inside a slur. A treble has three. */
  readonly strokes: readonly Bow[];
}

/** How the tune is fingered and bowed, where that is known already. */
export interface HandsGiven {
  readonly fingering?: readonly Fingered[];
  readonly bowing?: readonly BowedNote[];
}

/** Fingers and strokes by the address of their note. */
interface Hands {
  readonly fingers: ReadonlyMap<string, Fingered>;
  readonly bows: ReadonlyMap<string, BowedNote>;
}

const handsOf = (score: Score, given: HandsGiven): Hands => {
  const fingering = given.fingering ?? fingeringOf(score);
  const bowing = given.bowing ?? bowingOf(score);
  return {
    fingers: new Map(fingering.map((f) => [addressKey(f.address), f])),
    bows: new Map(bowing.map((b) => [addressKey(b.address), b])),
  };
};

const noteInHand = (address: Address, pitch: Pitch, { fingers, bows }: Hands): NoteInHand => {
  const held = fingers.get(addressKey(address));
  const { part, bar, onset } = address;
  const bowed = bows.get(addressKey({ part, bar, onset }));
  return {
    address,
    pitch,
    string: held?.string ?? null,
    finger: held?.finger ?? null,
    bow: bowed?.bow ?? 'down',
    begins: bowed?.begins ?? true,
  };
};

/** The finger that stops a pitch on a note's own string, the hand where it is: another than the note's if there is one. */
const fingerBeside = (pitch: Pitch, held: Fingered): Finger | null => {
  const place = STRING_NAMES.indexOf(held.string);
  const there = everyHoldOf(pitch, STANDARD_TUNING).filter(
    (h) => h.place === place && (h.finger === 0 || h.position === held.position),
  );
  return (there.find((h) => h.finger !== held.finger) ?? there[0])?.finger ?? null;
};

const roleOf = (pitch: Pitch, main: Pitch, severalGraces: boolean): Flick['role'] => {
  const above = midiOf(pitch) - midiOf(main);
  if (severalGraces) return above > 0 ? 'cut' : 'leadIn';
  return above < 0 ? 'strike' : 'cut';
};

/** A flick beside a note held so; `written`: how a grace note that stands on the page is fingered. */
const flickOn = (
  pitch: Pitch,
  role: Flick['role'],
  held: Fingered | null,
  written: Fingered | null,
): Flick => {
  const string = written?.string ?? held?.string ?? null;
  const finger = written?.finger ?? (held === null ? null : fingerBeside(pitch, held));
  const lifts = role === 'strike' && held !== null && string === held.string;
  return { role, pitch, string, finger, moves: lifts ? held.finger : finger };
};

const FLICKED: ReadonlySet<string> = new Set([
  'cut',
  'strike',
  'doubleGrace',
  'graceRun',
  'shortRoll',
  'longRoll',
]);

const flicksOf = (ornament: FoundOrnament, notes: readonly PlacedNote[], hands: Hands): readonly Flick[] => {
  if (!FLICKED.has(ornament.kind)) return [];
  const heldAt = (address: Address): Fingered | null => hands.fingers.get(addressKey(address)) ?? null;
  if (ornament.sign !== null) {
    const held = heldAt(ornament.address);
    return ornament.others.map((pitch) => flickOn(pitch, roleOf(pitch, ornament.pitch, false), held, null));
  }
  return notes.flatMap(({ note, address }) => {
    const graces = note.graces?.pitches ?? [];
    return graces.map((pitch, grace) => {
      const role = roleOf(pitch, note.pitches[0], graces.length > 1);
      return flickOn(pitch, role, heldAt(address), heldAt({ ...address, grace }));
    });
  });
};

const besideOf = ({ address }: FoundOrnament, note: Note, hands: Hands): NoteInHand | null => {
  const tone = address.tone === undefined ? undefined : note.pitches[address.tone];
  return tone === undefined ? null : noteInHand(address, tone, hands);
};

/**
 * How do the hands make the ornaments that are written in this tune: on which string, with which finger, in which
 * strokes, over which notes?
 * @param given - the tune's fingering and bowing, worked out here when absent
 * @returns in the order of `ornamentsOf`
 */
export const ornamentsInHand = (score: Score, given: HandsGiven = {}): readonly OrnamentInHand[] => {
  const ornaments = ornamentsOf(score);
  if (ornaments.length === 0) return [];
  const hands = handsOf(score, given);
  const placed = notesOf(score);
  const indexOf = new Map(placed.map(({ address }, i) => [addressKey(address), i]));
  return ornaments.flatMap((ornament): readonly OrnamentInHand[] => {
    const { part, bar, onset } = ornament.address;
    const from = indexOf.get(addressKey({ part, bar, onset })) ?? 0;
    const taken = placed.slice(from, from + ornament.events);
    const [first, ...more] = taken.map(({ note, address }) => noteInHand(address, note.pitches[0], hands));
    const main = taken[0]?.note;
    if (first === undefined || main === undefined) return [];
    const notes = [first, ...more] as const;
    return [
      {
        ornament,
        notes,
        flicks: flicksOf(ornament, taken, hands),
        beside: besideOf(ornament, main, hands),
        strokes: notes.filter((n) => n.begins).map((n) => n.bow),
      },
    ];
  });
};
