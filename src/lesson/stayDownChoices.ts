import type { StringName } from '../fiddle/index.ts';
import type { Anchor } from './anchors/index.ts';

/** Whether a finger that could stay down is shown at that place, as lesson.json keeps it. */
export interface StayDownChoice {
  /** The version of the lesson. */
  readonly version: string;
  /** The plain bar in which the finger goes down. */
  readonly anchor: Anchor;
  /** Where in the bar it goes down, in whole notes: "1/4". */
  readonly onset: string;
  readonly finger: 1 | 2 | 3;
  /** The strings under it, lower first. */
  readonly strings: readonly StringName[];
  readonly shown: boolean;
}

/** Whether two choices speak of the same finger in the same place. */
export const isSamePlace = (a: StayDownChoice, b: StayDownChoice): boolean =>
  a.version === b.version &&
  a.anchor.part === b.anchor.part &&
  a.anchor.bar === b.anchor.bar &&
  a.onset === b.onset &&
  a.finger === b.finger &&
  a.strings.join() === b.strings.join();
