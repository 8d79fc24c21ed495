import type { Score } from '../../score/index.ts';

/** One staff of the document: a version of the tune. */
export interface MusicXmlPart {
  /** Unique, a name by XML's rules ("bones"). */
  readonly id: string;
  /** Stands before the staff. */
  readonly name: string;
  readonly score: Score;
  /** By `addressKey` of a note or of a tone of it that bears a finger: its string, 1 for the highest. Absent: not said. */
  readonly strings?: ReadonlyMap<string, number>;
}

/** What a MusicXML file is made from. Texts are plain text. */
export interface MusicXmlDocument {
  readonly title: string;
  readonly composer?: string;
  readonly rights?: string;
  /** Where the setting comes from. */
  readonly source?: string;
  /** Day of writing, "2026-11-25". */
  readonly date?: string;
  /** Staves from the top; all have the same number of bars. */
  readonly parts: readonly MusicXmlPart[];
}
