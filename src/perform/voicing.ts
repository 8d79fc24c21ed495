import { type Chord, chordChromas, chromaOf } from '../music/index.ts';

/** The guitar's open strings, lowest first: E2 A2 D3 G3 B3 E4, as MIDI notes. Common practice: standard tuning. */
const GUITAR_STRINGS: readonly number[] = [40, 45, 50, 55, 59, 64];
/** Frets under one hand. Common practice. */
const HAND_SPAN = 4;
/** Highest place of the hand on the neck: nothing above E5 is reached. Ours. */
const HIGHEST_PLACE = 7;
/** With the hand here or below, open strings may sound between stopped ones. Ours. */
const OPEN_STRINGS_UP_TO = 2;
/** The lowest string of a chord is one of the three low ones. Common practice. */
const BASS_STRINGS = 3;
const FEWEST_STRINGS = 3;
const FINGERS = 4;

/** What makes a grip worse. Ours: tuned so that open chords come first and hands move little. */
const COST = { place: 0.5, mutedString: 0.9, doubledThird: 1.5, muddy: 1.2, movement: 1 } as const;
/** Below C3 two lowest notes closer than this many semitones sound muddy. Common practice: open low intervals. */
const OPEN_LOW = { below: 48, interval: 7 } as const;

/** A grip: the fret of each sounding string, lowest string first. */
interface Grip {
  readonly lowest: number;
  readonly frets: readonly number[];
  readonly place: number;
}

const pitchesOf = (grip: Grip): readonly number[] =>
  grip.frets.map((fret, i) => (GUITAR_STRINGS[grip.lowest + i] ?? 0) + fret);

/** Frets of one string, within the hand or open, that sound a tone of the chord. */
const fretsFor = (open: number, place: number, tones: readonly number[]): readonly number[] => {
  const reach = Array.from({ length: HAND_SPAN }, (_, i) => place + i);
  const frets = place > 0 && place <= OPEN_STRINGS_UP_TO ? [0, ...reach] : reach;
  return frets.filter((fret) => tones.includes((open + fret) % 12));
};

/** Whether four fingers stop it, one of them laid flat where no open string lies under it. */
const isPlayable = ({ frets }: Grip): boolean => {
  const stopped = frets.filter((f) => f > 0);
  const lowest = Math.min(...stopped);
  const flat = stopped.filter((f) => f === lowest).length;
  const laid = flat > 1 && !frets.includes(0);
  return stopped.length - (laid ? flat - 1 : 0) <= FINGERS;
};

const product = (choices: readonly (readonly number[])[]): readonly (readonly number[])[] =>
  choices.reduce<readonly (readonly number[])[]>(
    (grown, options) => grown.flatMap((row) => options.map((option) => [...row, option])),
    [[]],
  );

/** Whether each string sounds above the one below it, none the same note twice. */
const rises = (pitches: readonly number[]): boolean =>
  pitches.every((p, i) => i === 0 || p > (pitches[i - 1] ?? 0));

const gripsOf = (tones: readonly number[], bass: number): readonly Grip[] => {
  const grips: Grip[] = [];
  for (let place = 0; place <= HIGHEST_PLACE; place += 1) {
    for (let lowest = 0; lowest < BASS_STRINGS; lowest += 1) {
      const frets = GUITAR_STRINGS.map((open) => fretsFor(open, place, tones));
      const low = (frets[lowest] ?? []).filter((f) => ((GUITAR_STRINGS[lowest] ?? 0) + f) % 12 === bass);
      for (let top = lowest + FEWEST_STRINGS; top <= GUITAR_STRINGS.length; top += 1) {
        for (const row of product([low, ...frets.slice(lowest + 1, top)])) {
          const grip = { lowest, frets: row, place };
          if (isPlayable(grip) && rises(pitchesOf(grip))) grips.push(grip);
        }
      }
    }
  }
  return grips;
};

/** Mean distance in semitones from each note to the nearest one before. */
const movement = (pitches: readonly number[], before: readonly number[]): number => {
  if (before.length === 0) return 0;
  const steps = pitches.map((p) => Math.min(...before.map((b) => Math.abs(b - p))));
  return steps.reduce((a, b) => a + b, 0) / steps.length;
};

const costOf = (grip: Grip, third: number | null, before: readonly number[]): number => {
  const pitches = pitchesOf(grip);
  const thirds = third === null ? 0 : pitches.filter((p) => p % 12 === third).length;
  const [low = 0, second = 0] = pitches;
  const muddy = low < OPEN_LOW.below && second - low < OPEN_LOW.interval;
  return (
    (muddy ? COST.muddy : 0) +
    COST.place * grip.place +
    COST.mutedString * (GUITAR_STRINGS.length - pitches.length) +
    COST.doubledThird * Math.max(0, thirds - 1) +
    COST.movement * movement(pitches, before)
  );
};

/** Chromas that a grip must have: all of a triad's; of larger chords the fifth may be missing. */
const neededOf = (tones: readonly number[]): readonly number[] =>
  tones.length > 3 ? [tones[0] ?? 0, tones[1] ?? 0, ...tones.slice(3)] : tones;

/**
 * How does a guitar in standard tuning play this chord after the one before?
 *
 * Searches every grip of one hand in the lower positions: all tones of the triad, the bass note lowest, open strings
 * where they serve; of these the lowest on the neck that moves least. A bare fifth gets no third.
 * @param before - the grip before as MIDI notes; empty at the start
 * @returns MIDI notes from low to high, three to six, within E2–E5
 */
export const guitarVoicing = (chord: Chord, before: readonly number[]): readonly number[] => {
  const tones = chordChromas(chord);
  const bass = chromaOf(chord.bass ?? chord.root);
  const needed = neededOf(tones);
  const third = chord.quality === 'fifth' ? null : (tones[1] ?? null);
  let best: readonly number[] | null = null;
  let least = Number.POSITIVE_INFINITY;
  for (const grip of gripsOf(tones, bass)) {
    const pitches = pitchesOf(grip);
    if (!needed.every((tone) => pitches.some((p) => p % 12 === tone))) continue;
    const cost = costOf(grip, third, before);
    if (cost < least) [best, least] = [pitches, cost];
  }
  return best ?? stacked(tones, bass);
};

/** Where no grip has all the tones: the bass note and the chord's tones above it, as close as they lie. */
const stacked = (tones: readonly number[], bass: number): readonly number[] => {
  const low = 40 + ((bass - 40 + 120) % 12);
  const above = tones.map((tone) => low + 1 + ((tone - low - 1 + 120) % 12));
  return [...new Set([low, ...above])].toSorted((a, b) => a - b);
};

/** Lowest and highest root of the bass line, E1 and A2: below the guitar, within E1–G3 with its fifths. Ours. */
const BASS_RANGE = { low: 28, high: 45 } as const;
/** Where the bass likes to be, A1: an octave below the guitar's lowest notes. Ours. */
const BASS_HOME = 33;

const nearest = (chroma: number, to: number): number => {
  const all: number[] = [];
  for (let midi = BASS_RANGE.low; midi <= BASS_RANGE.high; midi += 1)
    if (midi % 12 === chroma) all.push(midi);
  return all.toSorted((a, b) => Math.abs(a - to) - Math.abs(b - to) || a - b)[0] ?? BASS_HOME;
};

/**
 * The bass note of the n-th bass stroke on a chord: its bass note, then the fifth, in turns.
 *
 * A chord over another bass note alternates that with its root.
 * @param turn - strokes already played on this chord
 * @returns MIDI note within E1–A2
 */
export const bassNote = (chord: Chord, turn: number): number => {
  const root = nearest(chromaOf(chord.bass ?? chord.root), BASS_HOME);
  if (turn % 2 === 0) return root;
  const fifth = chord.bass === undefined ? chordChromas(chord)[fifthIndex(chord)] : chromaOf(chord.root);
  return nearest(fifth ?? root % 12, root - 5);
};

const fifthIndex = (chord: Chord): number => (chord.quality === 'fifth' ? 1 : 2);

/** Lowest and highest note of the piano's right hand, E3 and D5: above the bass, mostly under the tune. Ours. */
const RIGHT_HAND = { low: 52, high: 74 } as const;
/** Where the right hand likes its middle, A3. Ours. */
const RIGHT_HAND_HOME = 57;

/**
 * How does a pianist's right hand play this chord after the one before?
 *
 * The chord's tones close together, in the inversion that moves least. A bare fifth gets no third: its root is doubled.
 * @param before - the chord before as MIDI notes; empty at the start
 * @returns three or four MIDI notes from low to high, within E3–D5
 */
export const pianoVoicing = (chord: Chord, before: readonly number[]): readonly number[] => {
  const tones = chordChromas(chord);
  const home = before.length === 0 ? [RIGHT_HAND_HOME] : before;
  let best: readonly number[] = [];
  let least = Number.POSITIVE_INFINITY;
  for (let low: number = RIGHT_HAND.low; low <= RIGHT_HAND.high; low += 1) {
    if (!tones.includes(low % 12)) continue;
    const above = tones.map((tone) => low + ((tone - low + 120) % 12));
    const keys = [...above, ...(tones.length < 3 ? [low + 12] : [])].toSorted((a, b) => a - b);
    if ((keys.at(-1) ?? 0) > RIGHT_HAND.high) continue;
    const drift = Math.abs(keys.reduce((a, b) => a + b, 0) / keys.length - RIGHT_HAND_HOME);
    const cost = movement(keys, home) + HOME_PULL * drift;
    if (cost < least) [best, least] = [keys, cost];
  }
  return best;
};
/** How strongly the right hand is drawn back to its home. Ours: else it climbs away over many chords. */
const HOME_PULL = 0.25;

/**
 * The bass note that leads into the next chord: a step of the scale below or above its bass note, from the side on
 * which the bass comes.
 * @param from - the bass note that it comes from
 * @param scale - chromas of the key
 * @returns MIDI note about E1–A2
 */
export const leadingBass = (next: Chord, from: number, scale: readonly number[]): number => {
  const goal = nearest(chromaOf(next.bass ?? next.root), BASS_HOME);
  const side = from > goal ? 1 : -1;
  const step = scale.includes((goal + side + 12) % 12) ? 1 : 2;
  return goal + side * step;
};
