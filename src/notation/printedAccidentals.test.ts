import { describe, expect, test } from 'vitest';
import { wholeNotes } from '../core/index.ts';
import { formatPitch, keyOf, metre, pitch, pitchClass } from '../music/index.ts';
import { type Bar, type BarLine, type Note, plainNote } from '../score/index.ts';
import { accidentalsToPrint } from './printedAccidentals.ts';

/** "{g5}F4- F#5": notes of a bar, grace notes in braces, "-" for a tie, "+" between the tones of a chord. */
const note = (text: string): Note => {
  const match = /^(?:\{(.*)\})?([^-]*)(-?)$/.exec(text);
  const tones = (match?.[2] ?? '').split('+').map(pitch);
  const [first = pitch('C4'), ...rest] = tones;
  const grace = match?.[1];
  return {
    ...plainNote(first, wholeNotes(1, 8)),
    pitches: [first, ...rest],
    graces: grace === undefined ? null : { pitches: [pitch(grace)], slashed: false },
    tiedToNext: match?.[3] === '-',
  };
};
const bar = (text: string, key: readonly [string, 'major' | 'dorian'], line: BarLine = 'single'): Bar => ({
  events: text.split(' ').map(note),
  key: keyOf(pitchClass(key[0]), key[1]),
  metre: metre(4, 4),
  role: 'full',
  number: 1,
  repeatStart: 0,
  repeatEnd: 0,
  line,
  ending: null,
  chords: [],
  annotations: [],
  fields: [],
  tempo: null,
  lineEnd: false,
});
/** "=F4 F#4 (#F5)": each pitch with the accidental printed before it, a courtesy in brackets. */
const printed = (bars: readonly Bar[]): string =>
  accidentalsToPrint(bars)
    .map((events, b) =>
      events
        .flatMap((e, i) => {
          const event = bars[b]?.events[i];
          if (event?.kind !== 'note') return [];
          const signs = [...e.graces, ...e.pitches];
          return [...(event.graces?.pitches ?? []), ...event.pitches].map((p, k) => {
            const sign = signs[k];
            if (sign == null) return formatPitch(p);
            const mark = ['bb', 'b', '=', '#', '##'][sign.alter + 2];
            return sign.courtesy ? `(${mark})${formatPitch(p)}` : `${mark}${formatPitch(p)}`;
          });
        })
        .join(' '),
    )
    .join(' | ');

describe('accidentals on paper', () => {
  test.each([
    ['the key says it', 'F#4 C#5', 'F#4 C#5'],
    ['holds to the bar line', 'F4 F4', '=F4 F4'],
    ['back to the key needs a sign', 'F4 F#4 F#4', '=F4 #F#4 F#4'],
    ['each octave has its own, a courtesy where the key would do', 'F4 F#5 F5', '=F4 (#)F#5 =F5'],
    ['each octave has its own', 'F4 F5', '=F4 =F5'],
    ['grace notes count', '{F4}G4 F4', '=F4 G4 F4'],
    ['chord tones count', 'D4+F4 F4', 'D4 =F4 F4'],
    ['doubles', 'G##4 G#4 Gb4 Gbb4', '##G##4 #G#4 bGb4 bbGbb4'],
  ])('%s', (_, notes, expected) => expect(printed([bar(notes, ['D', 'major'])])).toBe(expected));

  test('a bar line ends it', () => {
    expect(printed([bar('F4', ['D', 'major']), bar('F4 F#4', ['D', 'major'])])).toBe('=F4 | =F4 #F#4');
  });
  test('a tie over the bar line repeats no sign, but the next such note needs one', () => {
    expect(printed([bar('F4-', ['D', 'major']), bar('F4 F4', ['D', 'major'])])).toBe('=F4 | F4 =F4');
    expect(printed([bar('F4-', ['D', 'major']), bar('F4 F#4', ['D', 'major'])])).toBe('=F4 | F4 (#)F#4');
  });
  test('a bar that goes on after a line break keeps its signs', () => {
    const a = bar('F4', ['D', 'major'], 'none');
    expect(printed([a, bar('F4', ['D', 'major']), bar('F4', ['A', 'dorian'])])).toBe('=F4 | F4 | =F4');
  });
});
