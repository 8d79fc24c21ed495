import { parseWholeNotes, wholeNotes } from '../../core/index.ts';
import { keyOf, metre, pitch, pitchClass } from '../../music/index.ts';
import {
  assembleParts,
  type Bow,
  type Event,
  type LooseBar,
  type Note,
  plainNote,
  type Score,
} from '../../score/index.ts';

const D = keyOf(pitchClass('D'), 'major');

/** Signs round a note's name: "(" and ")" slurs, "v" down, "u" up, "-" tie; "z" is a rest, "A4+D4" two strings at once. */
const eventOf = (word: string): Event => {
  const [, open = '', bow = '', names = '', length = '1/8', tie = '', close = ''] =
    /^(\(?)([uv]?)([A-Gz#b0-9+]+)(?::([0-9/]+))?(-?)(\)?)$/.exec(word) ?? [];
  if (names === 'z')
    return {
      kind: 'rest',
      length: parseWholeNotes(length),
      visible: true,
      tuplet: null,
      beamedToNext: false,
      marks: [],
    };
  const [first = '', ...beside] = names.split('+');
  const note: Note = plainNote(pitch(first), parseWholeNotes(length));
  const direction: Bow | null = bow === 'v' ? 'down' : bow === 'u' ? 'up' : null;
  return {
    ...note,
    pitches: [pitch(first), ...beside.map(pitch)],
    bow: direction,
    tiedToNext: tie !== '',
    slurs: { opens: open.length, closes: close.length },
  };
};

/**
 * A reel, bar by bar, in words: "D4" is a quaver, "D4:1/4" a crotchet, "(D4 E4)" a slur, "uD4" an up-bow.
 * @param bars - a bar that begins with "|" begins a part
 */
export const tuneOf = (
  bars: readonly string[],
  time: readonly [number, number] = [4, 4],
  rhythm = 'reel',
): Score => {
  const m = metre(...time);
  let part = 0;
  const loose = bars.map((text): LooseBar => {
    const begins = text.startsWith('|');
    if (begins) part += 1;
    return {
      events: text.replace('|', '').trim().split(' ').map(eventOf),
      key: D,
      metre: m,
      repeatStart: 0,
      repeatEnd: 0,
      line: 'single',
      ending: null,
      chords: [],
      annotations: [],
      fields: [],
      tempo: null,
      lineEnd: false,
      partLabel: begins ? String.fromCharCode(64 + part) : null,
    };
  });
  return {
    number: 1,
    fields: [{ code: 'R', value: rhythm }],
    metre: m,
    key: D,
    unit: wholeNotes(1, 8),
    tempo: null,
    partOrder: null,
    parts: assembleParts(loose).parts,
  };
};
