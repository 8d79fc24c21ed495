import { MARK_LEVELS, type SlurStyle, TUNING_NAMES } from '../fiddle/index.ts';
import { type LessonSettings, STAY_DOWN_SHEETS } from '../lesson/index.ts';
import { oneOf } from './oneOf.ts';

/** What the commands take about the hands. */
export const HAND_OPTIONS = {
  marks: { type: 'string' },
  slurs: { type: 'string' },
  'stay-downs': { type: 'string' },
  position: { type: 'string' },
  tuning: { type: 'string' },
} as const;

/** Slur styles by their names on the command line. */
const SLURS = {
  written: 'written',
  separate: 'separate',
  'on-the-beat': 'onTheBeat',
  'into-the-beat': 'intoTheBeat',
  hooked: 'hooked',
} as const satisfies Readonly<Record<string, SlurStyle>>;
const SLUR_NAMES = Object.keys(SLURS) as readonly (keyof typeof SLURS)[];
const POSITIONS = ['1', '3'] as const;

/** The part of a lesson's settings that the hands have. */
type HandSettings = Pick<LessonSettings, 'marks' | 'slurs' | 'stayDowns' | 'position' | 'tuning'>;

/**
 * What the command line says of the hands; what it leaves out is as stored.
 * @throws UsageError when an option names nothing that there is
 */
export const handsFrom = (
  command: string,
  values: { readonly [K in keyof typeof HAND_OPTIONS]?: unknown },
  stored: HandSettings,
): HandSettings => {
  const asked = <T extends string>(option: keyof typeof HAND_OPTIONS, choices: readonly T[]): T | null => {
    const text = values[option];
    return typeof text === 'string' ? oneOf(`${command}: --${option}`, text, choices) : null;
  };
  const slurs = asked('slurs', SLUR_NAMES);
  const position = asked('position', POSITIONS);
  return {
    marks: asked('marks', MARK_LEVELS) ?? stored.marks,
    slurs: slurs === null ? stored.slurs : SLURS[slurs],
    stayDowns: asked('stay-downs', STAY_DOWN_SHEETS) ?? stored.stayDowns,
    position: position === null ? stored.position : position === '3' ? 3 : 1,
    tuning: asked('tuning', TUNING_NAMES) ?? stored.tuning,
  };
};
