import type { WholeNotes } from '../core/index.ts';
import type { Paper, Words } from '../lesson/index.ts';
import type { MeiHands } from '../notation/index.ts';
import type { Bow, Score } from '../score/index.ts';

/** What a sheet shows of the hands beside the fingers and bows that its score bears. */
export interface SheetHands extends MeiHands {
  /** By `addressKey` of the note where a stroke begins: its direction, printed where a line begins with it. */
  readonly bows: ReadonlyMap<string, Bow>;
}

/** One version on a sheet. */
export interface SheetVersion {
  /** Begins the ids of its notes ("bones"): letters and digits, a letter first. */
  readonly id: string;
  /** Printed under the title of its own sheet, or before its staves where several stand together. */
  readonly name: string;
  /** As it is to be printed: chord symbols, fingers and bows are those that it bears. */
  readonly score: Score;
  /** Absent: nothing more. */
  readonly hands?: SheetHands;
}

/** A tempo as printed: a note value, a number, and what it is for. */
export interface SheetTempo {
  readonly beat: WholeNotes;
  readonly beatsPerMinute: number;
  /** "to learn"; empty: nothing is said. */
  readonly words: string;
}

/** Names of ornaments in the key to the signs: a teacher's own words. */
export interface OrnamentWords {
  readonly cut: string;
  readonly treble: string;
  readonly run: string;
  readonly roll: string;
}

/** The words for ornaments where the teacher has not chosen. */
export const DEFAULT_ORNAMENT_WORDS: OrnamentWords = {
  cut: 'cut',
  treble: 'treble',
  run: 'triplet',
  roll: 'roll',
};

/** Everything that a sheet shows. */
export interface SheetPlan {
  readonly title: string;
  /** Under the title ("The bones"); empty: nothing. */
  readonly subtitle: string;
  /** "Reel". */
  readonly dance: string;
  /** "Trad.", a composer, the source of the setting: one line each, at most three are printed. */
  readonly credit: readonly string[];
  /** Key and metre in words ("G major", "4/4"). */
  readonly keyAndMetre: string;
  readonly tempos: readonly SheetTempo[];
  /** One, or several bar under bar. */
  readonly versions: readonly [SheetVersion, ...SheetVersion[]];
  readonly paper: Paper;
  /** At the foot of each page; empty: no name. */
  readonly teacher: string;
  /** At the foot of each page, as it is to be printed. */
  readonly date: string;
  readonly words: Words;
  readonly ornaments: OrnamentWords;
  /** Larger staves on more pages. */
  readonly largePrint: boolean;
}

/** A page: its size in points (1/72 inch), and the drawing as SVG text. */
export interface Page {
  readonly width: number;
  readonly height: number;
  readonly svg: string;
}

/** Paper sizes in points. Source: ISO 216 (210 × 297 mm); US Letter 8.5 × 11 in. */
export const PAPER_SIZES: Readonly<Record<Paper, { readonly width: number; readonly height: number }>> = {
  A4: { width: 595.28, height: 841.89 },
  Letter: { width: 612, height: 792 },
};

/** A sheet's measures in points; staff sizes are the distance from the lowest to the highest line. Ours, looked at in print. */
export const SHEET_MEASURES = {
  margin: { left: 45, right: 42, top: 40, bottom: 34 },
  staff: {
    /** One version alone: 7.4 mm, not under 5.3 mm. */
    alone: { usual: 21, least: 15 },
    /** Several versions bar under bar: 5.6 mm, not under 4.8 mm. */
    together: { usual: 16, least: 13.5 },
    /** Large print: 10 mm, never less. */
    largePrint: { usual: 28, least: 28 },
  },
} as const;
