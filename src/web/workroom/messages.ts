import type { ScreenLine } from '../../engrave/index.ts';
import type { PracticeData, PracticeKey } from '../../lesson/index.ts';
import type { EditedAbc, NoteEdit } from '../../notation/index.ts';
import type { LessonTexts } from '../../protocol/index.ts';
import type { BarAct, BarActed, BarReport } from './barMessages.ts';

/** What the page asks the workroom to work out. */
export interface WorkOrder {
  /** Counts up; reports name it. */
  readonly job: number;
  /** tune.abc. */
  readonly abc: string;
  /** lesson.json as text. */
  readonly settings: string;
  /** words.json as text; empty: none. */
  readonly words: string;
  /** The sheets' date where the lesson gives none. */
  readonly today: string;
  /** Versions whose staves are hidden. */
  readonly hidden: readonly string[];
  readonly barsInLine: number;
}

/** Another key for a lesson; the mode stays. */
export interface KeyWish {
  /** "A", "Bb". */
  readonly keynote: string;
  /** `near`: whichever way leaves fewest notes off the fiddle. */
  readonly direction: 'near' | 'up' | 'down';
}

/** A lesson in another key, or why not. */
export type MovedLesson =
  | { readonly kind: 'moved'; readonly texts: LessonTexts; readonly remarks: readonly string[] }
  | { readonly kind: 'problem'; readonly message: string };

/** What the page says to the workroom. */
export type ToWorkroom =
  | ({ readonly kind: 'work' } & WorkOrder)
  /** Tells of a bar now and after every change; null: of none. */
  | { readonly kind: 'look'; readonly at: number | null }
  /** What would an act make of lesson.json? */
  | { readonly kind: 'act'; readonly act: BarAct }
  /** What would an edit make of tune.abc? */
  | { readonly kind: 'edit'; readonly edit: NoteEdit }
  /** What would tune.abc be with the chords of the backing written in? */
  | { readonly kind: 'writeChords' }
  /** How would both texts be in another key? */
  | ({ readonly kind: 'move' } & KeyWish)
  /** How would the lesson sound after an act? */
  | { readonly kind: 'try'; readonly act: BarAct; readonly at: number };

/** A change that takes a problem away: text from `from` to `to` becomes `insert`. */
export interface Remedy {
  readonly label: string;
  readonly from: number;
  readonly to: number;
  readonly insert: string;
}

/** Something wrong in tune.abc. Offsets in UTF-16 code units. */
export interface TextProblem {
  readonly from: number;
  readonly to: number;
  readonly severity: 'error' | 'warning' | 'remark';
  readonly message: string;
  readonly hint: string;
  readonly remedy: Remedy | null;
}

/** A written bar: where it stands in the tune and in the text. */
export interface BarPlace {
  readonly part: string;
  readonly index: number;
  /** Printed number; null in a pick-up and the rest of a bar. */
  readonly number: number | null;
  readonly role: 'pickup' | 'full' | 'restOfBar';
  readonly from: number;
  readonly to: number;
}

/** A version as the ladder names it. */
export interface LadderStep {
  readonly id: string;
  readonly name: string;
  readonly what: string;
  /** "easy". */
  readonly difficulty: string;
  /** Notes that the next simpler version has not got, by key of their address. */
  readonly added: readonly string[];
  /** How it goes with the next simpler version; empty for the simplest. */
  readonly fit: string;
}

/** A line of the ladder: its drawing bears shades behind new notes, and chords over it. */
export interface LadderLine extends ScreenLine {
  /** Room that the chords take over the line, in drawing units. */
  readonly above: number;
}

/** The ladder engraved: a line as drawn, or the place of an equal one in the report before. */
export interface LadderMusic {
  readonly versions: readonly string[];
  readonly barsInLine: number;
  readonly lines: readonly (LadderLine | number)[];
  readonly signs: Readonly<Record<string, string>>;
}

/** A chapter of the video as it stands before the camera. */
export interface CameraChapter {
  readonly title: string;
  /** Planned seconds. */
  readonly length: number;
  readonly segments: readonly {
    readonly what: string;
    readonly say: string;
    /** "bars 1 and 5"; empty: the whole tune, or none. */
    readonly bars: string;
  }[];
  /** What is counted in; null: nothing is played in it. */
  readonly tempo: {
    readonly beatsPerMinute: number;
    readonly beatsInBar: number;
    /** "minim = 92". */
    readonly words: string;
  } | null;
}

/** What the workroom answers. */
export type WorkReport =
  /** The tune as it is now can be shown. */
  | {
      readonly kind: 'ladder';
      readonly job: number;
      readonly title: string;
      /** "Reel in G major, 16 bars". */
      readonly summary: string;
      readonly problems: readonly TextProblem[];
      readonly steps: readonly LadderStep[];
      readonly bars: readonly BarPlace[];
      readonly music: LadderMusic;
      /** Systems that were really drawn for it. */
      readonly drawn: number;
      /** Milliseconds from order to answer. */
      readonly took: number;
    }
  /** What playing and the panels need, a little later. */
  | {
      readonly kind: 'lesson';
      readonly job: number;
      readonly data: PracticeData;
      /** Keys to be worked out before they sound. */
      readonly keys: readonly PracticeKey[];
    }
  /** What is made of the lesson in words, last of all. */
  | {
      readonly kind: 'words';
      readonly description: string;
      /** The planned running order of the video. */
      readonly runningOrder: string;
      readonly chapters: readonly CameraChapter[];
    }
  | { readonly kind: 'bar'; readonly bar: BarReport | null }
  | { readonly kind: 'movedTo'; readonly moved: MovedLesson }
  | { readonly kind: 'edited'; readonly edit: NoteEdit['kind']; readonly edited: EditedAbc }
  | { readonly kind: 'acted'; readonly act: BarAct; readonly acted: BarActed }
  /** The lesson as it would be, to be heard at a bar. */
  | {
      readonly kind: 'tried';
      readonly at: number;
      readonly data: PracticeData;
      readonly keys: readonly PracticeKey[];
      /** Id of the version to listen to. */
      readonly version: string;
    }
  /** There is no tune to show, or lesson.json cannot be read. */
  | {
      readonly kind: 'nothing';
      readonly job: number;
      readonly problems: readonly TextProblem[];
      readonly message: string;
    };
