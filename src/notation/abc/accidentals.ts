import type { Alter, Key, Pitch, Step } from '../../music/index.ts';

/**
 * How far an accidental reaches. `pitch`: the same letter in all octaves to the end of the bar; `octave`: only in its
 * own octave; `not`: only its own note.
 */
export type AccidentalScope = 'pitch' | 'octave' | 'not';

/** The accidentals that hold in a bar: the key's, and those written since the last bar line. Mutable: one a tune read or written. */
export interface Accidentals {
  /** The accidental of a note written without a sign. */
  readonly of: (step: Step, octave: number, key: Key) => Alter;
  /** A sign was written. */
  readonly set: (step: Step, octave: number, alter: Alter) => void;
  /** A bar line: only the key holds. */
  readonly clear: () => void;
}

/**
 * Keeps the accidentals of one tune.
 * @see Source: ABC standard 2.1, section 11.3: by default an accidental holds in all octaves to the bar's end
 */
export const accidentalsIn = (scope: AccidentalScope): Accidentals => {
  const held = new Map<string, Alter>();
  const slot = (step: Step, octave: number): string => (scope === 'octave' ? `${step}${octave}` : step);
  return {
    of: (step, octave, key) => held.get(slot(step, octave)) ?? key.accidentals[step],
    set: (step, octave, alter) => {
      if (scope !== 'not') held.set(slot(step, octave), alter);
    },
    clear: () => held.clear(),
  };
};

/** The scope that a directive asks for ("propagate-accidentals octave"); null when it says nothing about it. */
export const accidentalScopeIn = (directive: string): AccidentalScope | null => {
  const match = /^propagate-accidentals\s+(pitch|octave|not)\b/.exec(directive);
  return match === null ? null : (match[1] as AccidentalScope);
};

/** Whether two pitches stand on one line or space. */
export const sameStaffPlace = (a: Pitch, b: Pitch): boolean => a.step === b.step && a.octave === b.octave;
