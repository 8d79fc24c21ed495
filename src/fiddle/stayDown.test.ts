import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { midiOf } from '../music/index.ts';
import { addressKey, notesOf, type Score } from '../score/index.ts';
import { fingeringOf, type StayDown, stayDownsOf, TUNINGS } from './index.ts';
import { tuneOf } from './testing/tuneOf.ts';

/** "D+A1 0–3": strings, finger, and the notes (counted from 0) between which it stays. */
const staysIn = (score: Score, options = {}): readonly string[] => {
  const keys = notesOf(score).map((n) => addressKey(n.address));
  return stayDownsOf(score, options)
    .toSorted((a, b) => keys.indexOf(addressKey(a.from)) - keys.indexOf(addressKey(b.from)))
    .map(
      (s) =>
        `${s.strings.join('+')}${s.finger} ${keys.indexOf(addressKey(s.from))}–${keys.indexOf(addressKey(s.to))}`,
    );
};

describe('across two strings', () => {
  // Source: common practice, "E on D and B on A, first finger: it is laid across both".
  test.each([
    ['a fifth', 'E4 B4 E4 B4 G4:1/4 A4:1/4', ['D+A1 0–3']],
    ['higher fingers between', 'E4 G4 B4 D5 B4:1/4 A4:1/4', ['D+A1 0–4']],
    ['not over an open string of the two', 'E4 A4 B4 D5:1/8 A4:1/2', []],
    ['over an open string beside them', 'E4 B4 E5 E4 G4:1/2', ['D+A1 0–3']],
    ['not for a diminished fifth', 'F#4 C5 F#4 C5 A4:1/2', []],
    ['not for an augmented one', 'F4 C#5 F4 C#5 A4:1/2', []],
    ['no sooner than need be', 'B4 C#5 B4 E4 B4 A4 A4:1/4', ['A1 0–2', 'D+A1 2–4']],
    ['one finger under two notes at once', 'E4+B4:1/4 G4:1/4 E4+B4:1/2', ['D+A1 0–2']],
  ])('%s', (_, bar, expected) => expect(staysIn(tuneOf([bar]))).toEqual(expected));
  test('only where the strings are a fifth apart', () => {
    const bar = 'F#4:1/4 B4:1/4 F#4:1/4 B4:1/4';
    const tuning = TUNINGS.AEAE;
    expect(fingeringOf(tuneOf([bar]), { tuning }).map((f) => f.string + f.finger)).toEqual([
      'D1',
      'A1',
      'D1',
      'A1',
    ]);
    expect(staysIn(tuneOf([bar]), { tuning })).toEqual([]);
  });
});

describe('on one string', () => {
  test.each([
    ['higher fingers play and it comes back', 'B4 D5 B4 A4 A4:1/2', ['A1 0–2']],
    ['once only for a row of returns', 'B4 C#5 B4 D5 B4 A4:3/8', ['A1 0–4']],
    ['not for a note said again', 'B4 B4 B4 A4 A4:1/2', []],
    ['not over a lower finger', 'C#5 B4 C#5 A4 A4:1/2', []],
    ['not when it is long in coming back', 'B4 D5 C#5 D5 E5 B4 A4:1/4', []],
    ['the open string above does not count as a higher finger', 'B4:1/4 E5:1/4 B4:1/4 A4:1/4', []],
    ['not over a rest', 'B4 D5 z:1/4 B4 A4 A4:1/4', []],
  ])('%s', (_, bar, expected) => expect(staysIn(tuneOf([bar]))).toEqual(expected));
  test('not into the next part', () => {
    expect(staysIn(tuneOf(['|D5:3/4 B4 D5', '|B4:1/4 A4:3/4']))).toEqual([]);
  });
  test('a roll lifts the finger of its own note, not the one below it', () => {
    const rolled = (at: number): Score => {
      const score = tuneOf(['B4 D5 B4 A4 A4:1/2']);
      const parts = score.parts.map((part) => ({
        ...part,
        bars: part.bars.map((bar) => ({
          ...bar,
          events: bar.events.map((e, i) =>
            i === at && e.kind === 'note' ? { ...e, signs: ['roll' as const] } : e,
          ),
        })),
      }));
      return { ...score, parts };
    };
    expect(staysIn(rolled(1))).toEqual(['A1 0–2']);
    expect(staysIn(rolled(2))).toEqual([]);
  });
});

test('the reason says finger, strings and notes; the most useful stands first', () => {
  const found = stayDownsOf(tuneOf(['F#5 A5 F#5 E5 E4 B4 E4 B4']));
  expect(found.map((s) => s.reason)).toEqual([
    'Lay the first finger across the D and A strings: it stops both E and B.',
    'Leave the first finger down on the E string: F♯ comes back.',
  ]);
});

const SCALE = 'G3 A3 B3 C4 C#4 D4 E4 F4 F#4 G4 G#4 A4 B4 C5 C#5 D5 E5 F#5 G5 A5 B5 z'.split(' ');
const tunes = fc
  .array(fc.array(fc.constantFrom(...SCALE), { minLength: 8, maxLength: 8 }), { minLength: 1, maxLength: 4 })
  .map((bars) => tuneOf(bars.map((bar) => bar.map((n) => (n === 'z' ? 'z:1/8' : n)).join(' '))));

const STRINGS = 'GDAE';

/** What is wrong with a stay-down, read off the fingering alone. */
const problemsOf = (score: Score, stay: StayDown): readonly string[] => {
  const notes = notesOf(score);
  const holds = fingeringOf(score);
  const keys = holds.map((f) => addressKey(f.address));
  const [from, to] = [keys.indexOf(addressKey(stay.from)), keys.indexOf(addressKey(stay.to))];
  const during = holds.slice(from, to + 1);
  const [first, last] = [during[0], during.at(-1)];
  const under = during.filter((h) => h.finger === stay.finger);
  const midis = new Set(
    notes
      .slice(from, to + 1)
      .flatMap(({ note }, i) => (under.includes(during[i] as never) ? [midiOf(note.pitches[0])] : [])),
  );
  const [low = 0, high = 0] = [...midis].sort((a, b) => a - b);
  const across = stay.kind === 'across';
  return [
    ...(first?.finger === stay.finger && last?.finger === stay.finger ? [] : ['another finger at an end']),
    ...(from < to ? [] : ['no stretch']),
    ...(under.every((h) => stay.strings.includes(h.string)) ? [] : ['the finger is needed elsewhere']),
    ...(under.every((h) => h.semitones === first?.semitones) ? [] : ['two places']),
    ...(during.some((h) => stay.strings.includes(h.string) && h.semitones < (first?.semitones ?? 0))
      ? ['an open string or a lower finger under it']
      : []),
    ...(midis.size === (across ? 2 : 1) ? [] : [`${midis.size} pitches`]),
    ...(!across || high - low === 7 ? [] : ['no fifth']),
    ...(stay.strings.length === (across ? 2 : 1) ? [] : ['strings']),
    ...(!across || STRINGS.indexOf(stay.strings[1] ?? 'G') - STRINGS.indexOf(stay.strings[0] ?? 'G') === 1
      ? []
      : ['no neighbours']),
  ];
};

test('law: the finger is the one fingered at both ends, and nothing drives it off on the way', () => {
  let seen = 0;
  fc.assert(
    fc.property(tunes, (score) => {
      for (const stay of stayDownsOf(score)) {
        seen += 1;
        expect(problemsOf(score, stay)).toEqual([]);
      }
    }),
    { seed: 404, numRuns: 400 },
  );
  expect(seen).toBeGreaterThan(200);
});
