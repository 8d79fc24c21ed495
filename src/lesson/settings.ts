import type { MarkLevel, SlurStyle, TuningName } from '../fiddle/index.ts';
import type { TempoStep } from '../music/index.ts';
import type { Band } from '../perform/index.ts';
import type { Density, PlainSwitches } from '../versions/index.ts';
import type { AcceptedEntry } from './acceptedOrnaments.ts';
import type { BarTable } from './anchors/index.ts';
import type { AudienceChoice } from './audiences.ts';
import type { KeptBar } from './kept/index.ts';
import { type OrnamentNames, USUAL_ORNAMENT_NAMES } from './notes/ornamentWords.ts';
import type { OwnNote } from './notes/ownNote.ts';
import type { StandingWords } from './notes/standingWords.ts';
import type { StayDownChoice } from './stayDownChoices.ts';
import type { OwnRecording, TrackWish } from './trackWish.ts';
import { USUAL_LADDER, type VersionChoice } from './versionChoice.ts';
import type { KeptWay } from './ways/index.ts';
import type { Words } from './words.ts';

/** Paper that the sheets are made for. */
export type Paper = 'A4' | 'Letter';

/** Kinds of sound file. */
export const SOUND_FORMATS = ['mp3', 'flac', 'wav'] as const;
/** A kind of sound file. */
export type SoundFormat = (typeof SOUND_FORMATS)[number];

/** How the fiddle plays in every track. */
export interface FiddleManner {
  /** Small differences in level, pitch and time from note to note; without them every note is played exactly alike. */
  readonly variation: boolean;
  /** Vibrato on long notes. */
  readonly vibrato: boolean;
}

/** Which sheets say where a finger stays down: the bones' alone, every one, or none. */
export const STAY_DOWN_SHEETS = ['bones', 'all', 'none'] as const;
/** Which sheets say where a finger stays down. */
export type StayDownSheets = (typeof STAY_DOWN_SHEETS)[number];

/** What a teacher decides about a lesson beside the tune itself. */
export interface LessonSettings {
  /** Stands at the foot of every sheet; empty: no name. */
  readonly teacher: string;
  /** Date at the foot of the sheets and in the tags, "2026-11-25". */
  readonly date: string;
  /** The teacher's own text; blank lines part its paragraphs. */
  readonly story: string;
  /** Beats a minute in the dance's beat; what is left out comes from the tune's `Q:` and the dance. */
  readonly tempos: Partial<Readonly<Record<TempoStep | 'learnBones', number>>>;
  /** Times through in a track, 1…9. */
  readonly times: number;
  /** Long : short of a running pair, 1…2.5; null: the dance's own, which falls with the tempo. */
  readonly swing: number | null;
  /** How full the bones are; `usual` is what the dance asks for. */
  readonly density: Density;
  /** What of the ornaments stays in "all the notes". */
  readonly plain: Partial<PlainSwitches>;
  /** The versions of the lesson, simplest first; two to four. */
  readonly versions: readonly VersionChoice[];
  /** Suggested ornaments that the teacher has accepted: they are in the full version. */
  readonly acceptedOrnaments: readonly AcceptedEntry[];
  /** Slurs of "all the notes"; `written` keeps the teacher's. */
  readonly slurs: SlurStyle;
  /** Fingers and bows on the sheets. */
  readonly marks: MarkLevel;
  /** Which sheets say where a finger stays down. */
  readonly stayDowns: StayDownSheets;
  /** Fingers that stay down which the teacher wants on a sheet, or does not. */
  readonly stayDownChoices: readonly StayDownChoice[];
  /** The highest position that fingers are looked for in. */
  readonly position: 1 | 3;
  /** What the strings are tuned to. */
  readonly tuning: TuningName;
  /** Papers, one sheet each. */
  readonly papers: readonly Paper[];
  /** Sheets for weak eyes: larger music and words, on more pages. */
  readonly largePrint: boolean;
  readonly words: Words;
  /** Tracks beside the usual ones. */
  readonly tracks: readonly TrackWish[];
  /** The teacher's own recordings. */
  readonly recordings: readonly OwnRecording[];
  /** Kinds of file that each track is made as; at least one. */
  readonly formats: readonly SoundFormat[];
  /** Clicks on every beat of every track. */
  readonly click: boolean;
  /** Who plays the backing, and in which manner. */
  readonly band: Band;
  readonly fiddle: FiddleManner;
  /** Bars of the bones that the teacher has written or chosen. */
  readonly keptBars: readonly KeptBar[];
  /** Other ways to play a bar. */
  readonly ways: readonly KeptWay[];
  /** The plain bars as they were when something was last attached to one; null: nobody wrote them down. */
  readonly barTable: BarTable | null;
  /** The teacher's own words for ornaments. */
  readonly names: OrnamentNames;
  /** The teacher's own words about this tune, in order. */
  readonly ownNotes: readonly OwnNote[];
  /** What the teacher says of a technique in every lesson. */
  readonly standing: StandingWords;
  /** Whom parts of the pack are for, where the teacher has said so. */
  readonly audiences: AudienceChoice;
}

/** A lesson's settings where the teacher has said nothing; date and teacher must come from outside. */
export const DEFAULT_SETTINGS: Omit<LessonSettings, 'date'> = {
  teacher: '',
  story: '',
  tempos: {},
  times: 2,
  swing: null,
  density: 'usual',
  plain: {},
  versions: USUAL_LADDER,
  acceptedOrnaments: [],
  slurs: 'written',
  marks: 'some',
  stayDowns: 'bones',
  stayDownChoices: [],
  position: 1,
  tuning: 'GDAE',
  papers: ['A4', 'Letter'],
  largePrint: false,
  words: 'british',
  tracks: [],
  recordings: [],
  formats: ['mp3'],
  click: false,
  band: { players: ['guitar', 'bass'], pattern: 'usual' },
  fiddle: { variation: true, vibrato: false },
  keptBars: [],
  ways: [],
  barTable: null,
  names: USUAL_ORNAMENT_NAMES,
  ownNotes: [],
  standing: {},
  audiences: {},
};
