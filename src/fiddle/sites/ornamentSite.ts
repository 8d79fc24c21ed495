import type { Rational, WholeNotes } from '../../core/index.ts';
import type { Pitch } from '../../music/index.ts';
import type { Address, Bow, Finger } from '../../score/index.ts';
import type { OrnamentKind } from '../ornaments.ts';
import type { StringName } from '../strings.ts';
import type { Accent } from './spot.ts';

/** The ornaments that can be put on a plain tune. `doubleGrace` is two cuts above an open string. */
export const SITE_KINDS = [
  'cut',
  'doubleGrace',
  'shortRoll',
  'longRoll',
  'treble',
  'runTriplet',
  'slide',
  'drone',
  'unison',
] as const satisfies readonly OrnamentKind[];
/** An ornament that can be put on a plain tune. */
export type SiteKind = (typeof SITE_KINDS)[number];

/** A place of a plain tune where one ornament is possible for hand and bow, and how it would be made there. */
export interface OrnamentSite {
  readonly kind: SiteKind;
  /** Of the first note that it takes up. */
  readonly address: Address;
  /** How many plain notes it takes up: three of `note–x–note` for a long roll, two for a run-triplet, else one. */
  readonly events: number;
  /** Of these notes together. */
  readonly length: WholeNotes;
  readonly pitch: Pitch;
  /** What comes to it: grace notes, cut and strike of a roll, the middle of a run, the tone beside the melody. */
  readonly others: readonly Pitch[];
  /** Where its first note lies, and the finger on it; of a unison the string below and the fourth finger. */
  readonly string: StringName;
  readonly finger: Finger;
  /** Without the ornament the note is taken with the fourth finger, with it as the open string. */
  readonly refingered: boolean;
  /** The fingers that flick, in order. */
  readonly flicks: readonly Finger[];
  /** The open string that rings along, of a drone or unison. */
  readonly beside: StringName | null;
  /** Strokes that begin in it; empty inside a slur. */
  readonly strokes: readonly Bow[];
  readonly accent: Accent;
  /** Number of the beat of the dance that it stands on or after, from 1. */
  readonly beat: number;
  /** Length of its first note in running notes. */
  readonly running: Rational;
  /** The note before has the same pitch. */
  readonly equalBefore: boolean;
  /** Index of its first note among the tune's notes and rests: neighbouring notes differ by one. */
  readonly index: number;
}
