import { fingeringOf, firstPositionOf, type Position, type StringName } from '../../fiddle/index.ts';
import {
  formatPitch,
  isInKey,
  type Key,
  midiOf,
  OPEN_STRINGS,
  type Pitch,
  type PitchClass,
  pitchAtStaffStep,
  scaleOf,
  staffStepOf,
} from '../../music/index.ts';
import {
  type Address,
  addressKey,
  barsOf,
  type Finger,
  placedEvents,
  type Score,
} from '../../score/index.ts';

/** The strings' names, lowest first. */
export const MAP_STRINGS: readonly StringName[] = ['G', 'D', 'A', 'E'];

/** One note of the map: a place on a string. */
export interface FingerDot {
  readonly string: StringName;
  /** Above the open string. */
  readonly semitones: number;
  readonly finger: Finger;
  readonly position: Position;
  readonly pitch: Pitch;
  /** Whether the tune is played there; else it is a note of the key that the tune does not take, or not there. */
  readonly inTune: boolean;
  readonly inKey: boolean;
  /** Where the tune has it, in order. */
  readonly at: readonly Address[];
  /** Printed numbers of these bars, each once; pick-ups have none. */
  readonly bars: readonly number[];
}

/** The notes of a key on four strings in first position, the tune's own marked. */
export interface FingerMap {
  /** String by string from the lowest, upwards. */
  readonly dots: readonly FingerDot[];
  /** Notes of the key that the tune has in no octave. */
  readonly without: readonly PitchClass[];
  /** Whether every note of the tune lies on some string. */
  readonly whole: boolean;
}

/** Letters above an open string that a hand reaches in first position. */
const REACH = 5;
/** Semitones above an open string where the fourth finger lies at home: the next string's own note. */
const FOURTH_FINGER = 7;

const openOf = (string: StringName): Pitch => OPEN_STRINGS[MAP_STRINGS.indexOf(string)] ?? OPEN_STRINGS[0];

const pitchInKey = (staffStep: number, key: Key): Pitch => {
  const { step } = pitchAtStaffStep(staffStep, 0);
  return pitchAtStaffStep(staffStep, key.accidentals[step]);
};

/** The key's notes on one string, as far as first position reaches without a stretch. */
const keyDots = (string: StringName, key: Key): readonly FingerDot[] => {
  const open = openOf(string);
  return Array.from({ length: REACH + 1 }, (_, i) => pitchInKey(staffStepOf(open) + i, key)).flatMap((at) => {
    const semitones = midiOf(at) - midiOf(open);
    if (semitones < 0 || semitones > FOURTH_FINGER) return [];
    const place = firstPositionOf(at).find((p) => p.string === string);
    if (place === undefined) return [];
    return [
      {
        string,
        semitones,
        finger: place.finger,
        position: 1 as const,
        pitch: at,
        inTune: false,
        inKey: true,
        at: [],
        bars: [],
      },
    ];
  });
};

/** A pitch of the tune, and the number of its bar. */
interface Sounded {
  readonly pitch: Pitch;
  readonly number: number | null;
}

const soundedByPlace = (score: Score): ReadonlyMap<string, Sounded> =>
  new Map(
    barsOf(score).flatMap(({ bar, part, index }) =>
      placedEvents(bar).flatMap(({ event, onset }) =>
        event.kind === 'rest'
          ? []
          : event.pitches.map((pitch, tone): [string, Sounded] => {
              const address = { part, bar: index, onset };
              return [addressKey(tone === 0 ? address : { ...address, tone }), { pitch, number: bar.number }];
            }),
      ),
    ),
  );

/** Where the tune's notes are played; grace notes are flicks and have no place of their own. */
const tuneDots = (score: Score): readonly FingerDot[] => {
  const sounded = soundedByPlace(score);
  const dots = new Map<string, FingerDot>();
  for (const { address, string, semitones, finger, position } of fingeringOf(score)) {
    const at = sounded.get(addressKey(address));
    if (at === undefined) continue;
    const key = `${string}/${formatPitch(at.pitch)}/${finger}`;
    const { bars = [], at: before = [] } = dots.get(key) ?? {};
    dots.set(key, {
      ...{ string, semitones, finger, position, pitch: at.pitch },
      inTune: true,
      inKey: isInKey(score.key, at.pitch),
      at: [...before, address],
      bars: at.number === null || bars.includes(at.number) ? bars : [...bars, at.number],
    });
  }
  return [...dots.values()];
};

const order = (a: FingerDot, b: FingerDot): number =>
  MAP_STRINGS.indexOf(a.string) - MAP_STRINGS.indexOf(b.string) ||
  a.semitones - b.semitones ||
  a.finger - b.finger;

/**
 * Where do the notes of the tune and its key lie under the hand?
 * @param score - the version that is played; its header's key is the map's
 */
export const fingerMapOf = (score: Score): FingerMap => {
  const dots = tuneDots(score);
  const others = MAP_STRINGS.flatMap((string) => keyDots(string, score.key)).filter(
    (dot) => !dots.some((d) => d.string === dot.string && d.semitones === dot.semitones),
  );
  const without = scaleOf(score.key).filter(
    ({ step, alter }) => !dots.some((d) => d.pitch.step === step && d.pitch.alter === alter),
  );
  const placed = dots.reduce((count, { at }) => count + at.length, 0);
  const whole = placed === soundedByPlace(score).size;
  return { dots: [...dots, ...others].toSorted(order), without, whole };
};
