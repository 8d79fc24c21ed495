import { toNumber, type WholeNotes } from '../core/index.ts';
import { midiOf, type Pitch } from '../music/index.ts';
import { type Address, barsOf, type Finger, type Note, placedEvents, type Score } from '../score/index.ts';
import { cheapestPath } from './cheapestPath.ts';
import { type Grip, gripFinder } from './grips.ts';
import { type Hold, holdsOf, type Position } from './holds.ts';
import { moveCost } from './moves.ts';
import { danceOfScore, runningUnitOf } from './runningUnit.ts';
import type { StringName } from './strings.ts';
import { STANDARD_TUNING, STRING_NAMES, type Tuning } from './tuning.ts';

/** How a tune is to be fingered. */
export interface FingeringOptions {
  /** Open strings from the lowest; G D A E when absent. */
  readonly tuning?: Tuning;
  /** First position when absent. Pitches beyond its reach are reached from higher up even so. */
  readonly highestPosition?: 1 | 3;
}

/** Where and with which finger one pitch is stopped. */
export interface Fingered {
  /** With `tone` for a tone beside the melody, with `grace` for a grace note. */
  readonly address: Address;
  /** By its name in G D A E, however it is tuned. */
  readonly string: StringName;
  readonly finger: Finger;
  readonly position: Position;
  /** Above the open string: tells a low second finger (3) from a high one (4). */
  readonly semitones: number;
}

/** A note to be fingered, and what comes before it. */
interface Step {
  readonly note: Note;
  readonly address: Address;
  readonly grips: readonly Grip[];
  /** How little time there is to get here from the note before, 0…1. */
  readonly haste: number;
  /** Whether it goes on sounding from the note before. */
  readonly tied: boolean;
}

/** Haste by how many running notes' time the note before lasts. Ours. */
const HASTE = { running: 1, twice: 0.6, longer: 0.35, afterRest: 0.1 } as const;

const hasteAfter = (length: WholeNotes, running: number): number => {
  const times = toNumber(length) / running;
  if (times < 1.5) return HASTE.running;
  return times < 2.5 ? HASTE.twice : HASTE.longer;
};

const stepsOf = (score: Score, tuning: Tuning, highest: Position): readonly Step[] => {
  const running = toNumber(runningUnitOf(danceOfScore(score), score.metre));
  const gripsFor = gripFinder(tuning, highest);
  const steps: Step[] = [];
  let haste: number = HASTE.afterRest;
  let tied = false;
  for (const { bar, part, index } of barsOf(score)) {
    for (const { event, onset } of placedEvents(bar)) {
      if (event.kind === 'rest') {
        haste = HASTE.afterRest;
        tied = false;
        continue;
      }
      const grips = gripsFor(event);
      if (grips.length > 0)
        steps.push({ note: event, address: { part, bar: index, onset }, grips, haste, tied });
      haste = hasteAfter(event.length, running);
      tied = event.tiedToNext && grips.length > 0;
    }
  }
  return steps;
};

const sameHold = (a: Grip, b: Grip): boolean =>
  a.melody.place === b.melody.place && a.melody.finger === b.melody.finger;

/** What a tied note costs that would have to change its finger: as good as never. */
const BROKEN_TIE = 100;

/** The cheapest row of grips: a shortest path through the ways to hold each note. */
const cheapestGrips = (steps: readonly Step[]): readonly Grip[] =>
  cheapestPath({
    ways: steps.map((step) => step.grips),
    own: (grip) => grip.cost,
    move: (from, to, at) => {
      const broken = steps[at]?.tied === true && !sameHold(from, to) ? BROKEN_TIE : 0;
      return moveCost(from, to, steps[at]?.haste ?? 1) + broken;
    },
  });

const fingered = (address: Address, hold: Hold): Fingered => ({
  address,
  string: STRING_NAMES[hold.place] ?? 'G',
  finger: hold.finger,
  position: hold.position,
  semitones: hold.semitones,
});

/** A grace note is flicked on the string of its note where it lies there, by a finger that is free. */
const graceHold = (grace: Pitch, main: Hold, mainPitch: Pitch, tuning: Tuning): Hold | null => {
  const holds = holdsOf(grace, tuning, main.position, null);
  const free = (h: Hold): boolean => h.finger !== main.finger || midiOf(grace) === midiOf(mainPitch);
  const onString = holds.filter((h) => h.place === main.place);
  return onString.find(free) ?? onString[0] ?? holds.find(free) ?? holds[0] ?? null;
};

const fingeredNote = ({ note, address }: Step, grip: Grip, tuning: Tuning): readonly Fingered[] => {
  const graces = (note.graces?.pitches ?? []).flatMap((grace, i) => {
    const hold = graceHold(grace, grip.melody, note.pitches[0], tuning);
    return hold === null ? [] : [fingered({ ...address, grace: i }, hold)];
  });
  const beside = grip.beside.flatMap((hold, i) =>
    hold === null ? [] : [fingered({ ...address, tone: i + 1 }, hold)],
  );
  return [...graces, fingered(address, grip.melody), ...beside];
};

/**
 * On which string and with which finger is every note of the tune stopped?
 *
 * A shortest path over string, finger and position. Written fingers are kept. The open string is taken unless the fourth
 * finger saves a crossing there and back among running notes.
 * @returns every note in written order, its grace notes before and its tones beside it after it; pitches that lie on no
 *   string are left out, as are tones that no finger is left for
 * @see Source: the method, S. Sayegh, Computer Music Journal 13(3), 1989
 */
export const fingeringOf = (score: Score, options: FingeringOptions = {}): readonly Fingered[] => {
  const tuning = options.tuning ?? STANDARD_TUNING;
  const steps = stepsOf(score, tuning, options.highestPosition ?? 1);
  const grips = cheapestGrips(steps);
  return steps.flatMap((step, i) => {
    const grip = grips[i];
    return grip === undefined ? [] : fingeredNote(step, grip, tuning);
  });
};
