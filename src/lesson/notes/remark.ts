import type { BarNote } from './barNotes.ts';
import type { Saying } from './claims.ts';
import type { OrnamentSection } from './ornamentNotes.ts';
import type { Technique } from './standingWords.ts';

/** A remark of the teaching notes. */
export interface Remark {
  /** Names it within its group. */
  readonly subject: string;
  readonly saying: Saying;
  /** One of the eight to ten that a lesson opens with; the rest is on tap. */
  readonly first: boolean;
  /** In the teacher's own words. */
  readonly own: boolean;
}

/** An ornament's section and whether it is one of the remarks that a lesson opens with. */
export type OrnamentRemark = OrnamentSection & {
  readonly first: boolean;
  /** In the teacher's own words. */
  readonly own: readonly string[];
};

/** What a teacher says about a lesson, in the order of telling it. */
export interface TeachingNotes {
  readonly tune: readonly Remark[];
  readonly parts: readonly { readonly label: string; readonly remarks: readonly Remark[] }[];
  readonly ornaments: readonly OrnamentRemark[];
  readonly bars: readonly BarNote[];
  /** Own words of the teacher whose place is gone from the tune. */
  readonly placeless: readonly string[];
  /** What the lesson has of the techniques that standing words are written for. */
  readonly techniques: readonly Technique[];
}
