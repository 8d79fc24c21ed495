import { wholeNotes } from '../../core/index.ts';
import { keyOf, type Mode, metre, pitch, pitchClass, readChord } from '../../music/index.ts';
import { assembleParts, type LooseBar, plainNote, type Score } from '../../score/index.ts';

/** A tune of even notes: bars of pitch names, with a chord before a note written as "Am:A4". */
export const tuneOf = (
  tonic: string,
  mode: Mode,
  bars: readonly string[],
  time: readonly [number, number] = [4, 4],
): Score => {
  const key = keyOf(pitchClass(tonic), mode);
  const m = metre(...time);
  const loose = bars.map((text, i): LooseBar => {
    const words = text.split(' ');
    const length = wholeNotes(1, 8);
    return {
      events: words.map((w) => plainNote(pitch(w.split(':').at(-1) ?? ''), length)),
      chords: words.flatMap((w, n) => {
        const chord = w.includes(':') ? readChord(w.split(':')[0] ?? '') : null;
        return chord === null ? [] : [{ onset: wholeNotes(n, 8), chord, text: w.split(':')[0] ?? '' }];
      }),
      key,
      metre: m,
      repeatStart: 0,
      repeatEnd: i === bars.length - 1 ? 1 : 0,
      line: 'single',
      ending: null,
      annotations: [],
      fields: [],
      tempo: null,
      lineEnd: false,
      partLabel: i === 0 ? 'A' : null,
    };
  });
  const { parts } = assembleParts(loose);
  return {
    number: 1,
    fields: [],
    metre: m,
    key,
    unit: wholeNotes(1, 8),
    tempo: null,
    partOrder: null,
    parts,
  };
};
