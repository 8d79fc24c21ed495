import { type FingeringOptions, TUNINGS } from '../fiddle/index.ts';
import type { LessonSettings } from './settings.ts';

/** How the lesson's tune is fingered. */
export const fingeringOptionsOf = ({ tuning, position }: LessonSettings): FingeringOptions => ({
  tuning: TUNINGS[tuning],
  highestPosition: position,
});
