import { midiNumber, type Seconds, seconds } from '../src/core/index.ts';
import type { Attack, TimedNote, Timeline } from '../src/perform/index.ts';

// What the fiddle has to play so that its sound can be measured: running notes bowed and slurred, cuts, rolls, trebles
// and every key of first position. Lengths are those of a reel at 106 minims a minute. Ours.

const RUNNING = 60 / 106 / 4;
const FLICK = 0.04;
const KEYS = { lowest: 55, highest: 83 } as const;

type More = Partial<Pick<TimedNote, 'newBow' | 'level' | 'beside'>>;

/** Writes notes one after the other. */
const writer = () => {
  const notes: TimedNote[] = [];
  let at = 0.2;
  const play = (midi: number, length: number, attack: Attack = 'bow', more: More = {}): void => {
    notes.push({
      voice: 'fiddle',
      start: seconds(at),
      length: seconds(length),
      midi: midiNumber(midi),
      level: 0.7,
      attack,
      ...more,
    });
    at += length;
  };
  return {
    play,
    rest: (length: number): void => {
      at += length;
    },
    timeline: (): Timeline => ({ notes, bars: [], beats: [], tempo: [], length: at as Seconds }),
  };
};

/** Eight bars' worth of running notes over the whole range, bowed, then slurred in pairs. */
export const runningNotes = (): Timeline => {
  const { play, timeline } = writer();
  const line = [
    62, 66, 69, 74, 73, 69, 71, 67, 64, 60, 57, 55, 59, 62, 67, 71, 74, 78, 81, 83, 79, 76, 72, 69,
  ];
  for (const midi of line) play(midi, RUNNING);
  line.forEach((midi, i) => {
    play(midi + (i % 2 === 0 ? 0 : 2), RUNNING, i % 2 === 0 ? 'bow' : 'slur');
  });
  return timeline();
};

/** A cut within a stroke, a cut that begins a stroke and a long roll on each note of two octaves; cuts a tone or semitone above. */
export const cutsAndRolls = (): Timeline => {
  const { play, rest, timeline } = writer();
  for (const [midi, up] of [
    [57, 2],
    [59, 1],
    [62, 2],
    [64, 2],
    [66, 1],
    [67, 2],
    [69, 4],
    [71, 2],
    [73, 1],
    [74, 2],
    [76, 3],
    [78, 1],
    [79, 2],
  ] as const) {
    // biome-ignore format: a table
    play(midi, RUNNING);
    play(midi + up, FLICK, 'cut');
    play(midi, RUNNING - FLICK, 'afterFlick');
    play(midi + up, FLICK, 'cut', { newBow: true });
    play(midi, RUNNING - FLICK, 'afterFlick');
    play(midi - 2, FLICK, 'strike');
    play(midi, RUNNING - FLICK, 'afterFlick');
    rest(0.3);
  }
  return timeline();
};

/** Trebles in 0.28 and 0.32 seconds, strokes 1 : 1 : 3, on open and first-finger notes. */
export const trebles = (): Timeline => {
  const { play, rest, timeline } = writer();
  for (const midi of [55, 57, 62, 64, 69, 71, 76, 78]) {
    for (const whole of [0.28, 0.32]) {
      play(midi, RUNNING);
      play(midi, whole / 5, 'treble');
      play(midi, whole / 5, 'treble');
      play(midi, (whole * 3) / 5);
      rest(0.2);
    }
  }
  return timeline();
};

/** Every key alone for half a second. */
export const everyKey = (): Timeline => {
  const { play, rest, timeline } = writer();
  for (let midi: number = KEYS.lowest; midi <= KEYS.highest; midi += 1) {
    play(midi, 0.5);
    rest(0.25);
  }
  return timeline();
};

/** Every third key held for six seconds: long past the samples' ends. */
export const heldNotes = (): Timeline => {
  const { play, rest, timeline } = writer();
  for (let midi: number = KEYS.lowest; midi <= KEYS.highest; midi += 3) {
    play(midi, 6);
    rest(0.3);
  }
  return timeline();
};
