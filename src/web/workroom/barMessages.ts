import type { AcceptedEntry, StayDownChoice } from '../../lesson/index.ts';
import type { SettingsChange } from '../../lessonfile/index.ts';
import type { Address, Bow, Finger, OrnamentSign, WayPlayed } from '../../score/index.ts';

/** One bar of a version that a teacher could have. */
export interface BarChoice {
  /** Its notes in ABC. */
  readonly abc: string;
  /** Why one would choose it. */
  readonly reason: string;
  /** It is what stands there now. */
  readonly isNow: boolean;
  /** Engraved, as a whole SVG document, and its width in points. */
  readonly picture: string;
  readonly width: number;
}

/** What there is to do with the bones of a bar. */
export interface BonesOfBar {
  /** Id and name of the version. */
  readonly version: string;
  readonly name: string;
  readonly choices: readonly BarChoice[];
  /** Place of what is kept here in the list of kept bars; null: the bar is derived. */
  readonly kept: number | null;
  readonly keptWords: string;
}

/** Another way to play the bar. */
export interface WayOfBar {
  /** Its place in the lesson's list. */
  readonly way: number;
  /** Name of the version that it is for. */
  readonly name: string;
  readonly abc: string;
  readonly played: WayPlayed;
  readonly printed: boolean;
  /** Why it is not in force, or that the bar has changed; empty: nothing is to be said. */
  readonly remark: string;
  /** Engraved, as a whole SVG document. */
  readonly picture: string;
}

/** A version of the lesson, and the bar's own notes in it, in ABC. */
export interface VersionOfBar {
  readonly version: string;
  readonly name: string;
  readonly abc: string;
}

/** An ornament that could stand in the bar, or does because it was accepted. */
export interface BarOrnament {
  /** "Treble on E". */
  readonly what: string;
  /** Why there, and what the hands do. */
  readonly about: string;
  readonly entry: AcceptedEntry;
  readonly isAccepted: boolean;
}

/** A finger that goes down in the bar and could stay. */
export interface BarStayDown {
  /** Id and name of the version. */
  readonly version: string;
  readonly name: string;
  /** What to do and why. */
  readonly reason: string;
  /** Whether its sheet says so. */
  readonly shown: boolean;
  /** What is kept when that is turned round. */
  readonly other: StayDownChoice;
}

/** A note of the full version, to be pointed at. */
export interface BarNotePlace {
  /** Key of its address. */
  readonly key: string;
  readonly address: Address;
  /** "F♯". */
  readonly name: string;
  /** Fingers and bow that are written; null: none is. */
  readonly finger: Finger | null;
  readonly bow: Bow | null;
  /** What a player would take: "2 on the A string". */
  readonly hand: string;
  /** Every finger that can play it, and on which string; usual ones first. */
  readonly hands: readonly { readonly finger: Finger; readonly where: string }[];
  readonly signs: readonly OrnamentSign[];
  readonly chord: string;
  /** Slurred to the note that follows it. */
  readonly slurred: boolean;
  /** The note that follows in the same bar. */
  readonly next: Address | null;
}

/** Everything that is known of one written bar. */
export interface BarReport {
  readonly at: number;
  /** All the notes of it, in ABC. */
  readonly plain: string;
  readonly bones: readonly BonesOfBar[];
  readonly ways: readonly WayOfBar[];
  /** Simplest first. */
  readonly versions: readonly VersionOfBar[];
  readonly ornaments: readonly BarOrnament[];
  /** How many suggestions of each kind there are in the whole tune. */
  readonly kinds: readonly { readonly kind: string; readonly name: string; readonly count: number }[];
  readonly stayDowns: readonly BarStayDown[];
  /** How hard it is in each version, and what makes it so. */
  readonly hard: readonly string[];
  /** What the notes say of it. */
  readonly notes: readonly string[];
  /** What the teacher says of it; `instead`: and nothing else is said. */
  readonly own: { readonly words: string; readonly instead: boolean };
  /** Notes as they are written. */
  readonly written: readonly BarNotePlace[];
  /** Other bars that sound the same in "all the notes". */
  readonly alike: readonly number[];
  readonly fit: readonly string[];
}

/** Something a teacher does with a bar. */
export type BarAct =
  | {
      readonly kind: 'choose';
      readonly version: string;
      readonly at: number;
      readonly choice: number;
      readonly everywhere: boolean;
    }
  | {
      readonly kind: 'type';
      readonly version: string;
      readonly at: number;
      readonly abc: string;
      readonly everywhere: boolean;
    }
  | { readonly kind: 'forget'; readonly kept: number }
  | {
      readonly kind: 'addWay';
      readonly version: string;
      readonly at: number;
      readonly abc: string;
      readonly played: WayPlayed;
      readonly printed: boolean;
    }
  | {
      readonly kind: 'changeWay';
      readonly way: number;
      readonly played?: WayPlayed;
      readonly printed?: boolean;
    }
  | { readonly kind: 'dropWay'; readonly way: number }
  | { readonly kind: 'accept'; readonly entries: readonly AcceptedEntry[] }
  | { readonly kind: 'acceptKind'; readonly ornament: string }
  | { readonly kind: 'stayDown'; readonly choice: StayDownChoice }
  /** The teacher's own words on a bar; empty: none. */
  | { readonly kind: 'note'; readonly at: number; readonly words: string; readonly instead: boolean }
  | { readonly kind: 'refuse'; readonly entries: readonly AcceptedEntry[] };

/** What an act makes of lesson.json; or why it cannot be. */
export type BarActed =
  | { readonly kind: 'change'; readonly change: SettingsChange }
  | { readonly kind: 'problem'; readonly message: string };
