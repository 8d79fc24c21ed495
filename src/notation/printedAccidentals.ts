import type { Alter, Pitch } from '../music/index.ts';
import { isSamePitch, staffStepOf } from '../music/index.ts';
import type { Bar, Event } from '../score/index.ts';

/** An accidental to print before a note. */
export interface PrintedAccidental {
  readonly alter: Alter;
  /** Not required by the rule, printed so that nobody has to wonder (after an accidental in another octave). */
  readonly courtesy: boolean;
}

/** The accidentals of one event: one entry a grace note, one a pitch; null where none is printed. */
export interface EventAccidentals {
  readonly graces: readonly (PrintedAccidental | null)[];
  readonly pitches: readonly (PrintedAccidental | null)[];
}

/** What a reader has in mind in the middle of a bar. */
interface BarMemory {
  /** Accidental in force by staff place. */
  readonly places: Map<number, Alter>;
  /** Last alteration seen of each letter (0…6) where it was not the key's, or came by a tie: calls for a courtesy. */
  readonly doubtful: Map<number, Alter>;
}

const freshMemory = (): BarMemory => ({ places: new Map(), doubtful: new Map() });

const letterOf = (pitch: Pitch): number => staffStepOf(pitch) - 7 * pitch.octave;

const accidentalFor = (pitch: Pitch, keyAlter: Alter, memory: BarMemory): PrintedAccidental | null => {
  const place = staffStepOf(pitch);
  const inForce = memory.places.get(place) ?? keyAlter;
  const doubt = memory.doubtful.get(letterOf(pitch));
  const seenHere = memory.places.has(place);
  const printed =
    inForce !== pitch.alter
      ? { alter: pitch.alter, courtesy: false }
      : !seenHere && doubt !== undefined && doubt !== pitch.alter
        ? { alter: pitch.alter, courtesy: true }
        : null;
  if (printed !== null) {
    memory.places.set(place, pitch.alter);
    memory.doubtful.set(letterOf(pitch), pitch.alter);
  }
  return printed;
};

const tiedIntoFrom = (before: Event | undefined, pitch: Pitch): boolean =>
  before?.kind === 'note' && before.tiedToNext && before.pitches.some((p) => isSamePitch(p, pitch));

/**
 * Answers "which accidentals must be printed?" for a run of bars.
 *
 * On paper an accidental holds to the bar line for its own staff place only; the same letter in another octave then gets
 * its own accidental, as a courtesy where the key alone would do. A note tied over from the bar before needs no
 * accidental again; a later note of the same pitch does. Grace notes count like other notes. A bar that closes without
 * a line to be seen goes on into the next, its accidentals too.
 * @param bars - in written order, one staff
 * @returns for each bar, for each of its events (rests: two empty lists)
 * @see Source: common practice of music printing
 */
export const accidentalsToPrint = (bars: readonly Bar[]): readonly (readonly EventAccidentals[])[] => {
  let memory = freshMemory();
  let before: Event | undefined;
  let carriesOn = false;
  return bars.map((bar) => {
    if (!carriesOn || bar.repeatStart > 0) memory = freshMemory();
    carriesOn = bar.repeatEnd === 0 && (bar.line === 'none' || bar.line === 'invisible');
    return bar.events.map((event, i): EventAccidentals => {
      const previous = before;
      before = event;
      if (event.kind === 'rest') return { graces: [], pitches: [] };
      const graces = (event.graces?.pitches ?? []).map((p) =>
        accidentalFor(p, bar.key.accidentals[p.step], memory),
      );
      const pitches = event.pitches.map((p) => {
        const keyAlter = bar.key.accidentals[p.step];
        if (!tiedIntoFrom(previous, p)) return accidentalFor(p, keyAlter, memory);
        const inForce = memory.places.get(staffStepOf(p)) ?? keyAlter;
        if (i === 0 && inForce !== p.alter) memory.doubtful.set(letterOf(p), p.alter);
        return null;
      });
      return { graces, pitches };
    });
  });
};
