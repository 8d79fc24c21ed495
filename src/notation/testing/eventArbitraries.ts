import fc from 'fast-check';
import { asWholeNotes, rational, type WholeNotes, wholeNotes } from '../../core/index.ts';
import {
  type Alter,
  accidentalsOf,
  fifthsOf,
  type Key,
  keyOf,
  type Metre,
  MODES,
  metre,
  NO_KEY,
  type Pitch,
  STEPS,
} from '../../music/index.ts';
import type { Event, Note } from '../../score/index.ts';

const alters: readonly Alter[] = [-2, -1, 0, 1, 2];

/** Any pitch that a fiddle could play, spelled in any way; single accidentals are much likelier than double ones. */
export const pitchArbitrary: fc.Arbitrary<Pitch> = fc.record({
  step: fc.constantFrom(...STEPS),
  alter: fc.oneof(
    { weight: 9, arbitrary: fc.constantFrom<Alter>(-1, 0, 1) },
    { weight: 1, arbitrary: fc.constantFrom(...alters) },
  ),
  octave: fc.constantFrom(3, 4, 4, 5, 5, 6),
});

const tonicArbitrary = fc.record({
  step: fc.constantFrom(...STEPS),
  alter: fc.constantFrom<Alter>(-1, 0, 0, 1),
});

/** A key of a keynote and mode. */
export const modalKey: fc.Arbitrary<Key> = fc
  .tuple(tonicArbitrary, fc.constantFrom(...MODES))
  .filter(([tonic, mode]) => Math.abs(fifthsOf(tonic, mode)) <= 7)
  .map(([tonic, mode]) => keyOf(tonic, mode));

const changed = (key: Key, step: (typeof STEPS)[number], alter: Alter): Key => ({
  ...key,
  accidentals: { ...key.accidentals, [step]: alter },
});

/** Any key that `K:` can say. */
export const keyArbitrary: fc.Arbitrary<Key> = fc.oneof(
  { weight: 8, arbitrary: modalKey },
  {
    weight: 1,
    arbitrary: fc
      .tuple(modalKey, fc.constantFrom(...STEPS), fc.constantFrom<Alter>(-1, 0, 1))
      .map(([key, step, alter]) => changed(key, step, alter)),
  },
  {
    weight: 1,
    arbitrary: tonicArbitrary.map(
      (tonic): Key => ({ tonic, mode: null, accidentals: accidentalsOf(2), signature: 'explicit' }),
    ),
  },
  { weight: 1, arbitrary: fc.constant(NO_KEY) },
  {
    weight: 1,
    arbitrary: fc.constantFrom<Key['signature']>('pipes', 'none').map(
      (signature): Key => ({
        tonic: { step: 'A', alter: 0 },
        mode: 'mixolydian',
        accidentals: accidentalsOf(2),
        signature,
      }),
    ),
  },
);

/** Any metre that `M:` can say. */
export const metreArbitrary: fc.Arbitrary<Metre> = fc.constantFrom<Metre>(
  metre(4, 4),
  metre(6, 8),
  metre(9, 8),
  metre(12, 8),
  metre(2, 4),
  metre(3, 4),
  metre(3, 2),
  metre(2, 2),
  { kind: 'free' },
  { kind: 'measured', count: 4, unit: 4, symbol: 'common' },
  { kind: 'measured', count: 2, unit: 2, symbol: 'cut' },
  { kind: 'measured', count: 7, unit: 8, groups: [2, 3, 2] },
);

/** One line of text with what needs care in ABC: accents, quotes, percent signs, backslashes. */
export const lineOfText: fc.Arbitrary<string> = fc
  .array(fc.constantFrom(...'abcXYZ 0123.,;:!?()[]{}|/\\%&"\'^~éßŁ–♯-_*#+='), { maxLength: 20 })
  .map((chars) => chars.join('').trim());

const lengthArbitrary: fc.Arbitrary<WholeNotes> = fc
  .constantFrom('1/8', '1/8', '1/8', '1/4', '1/4', '1/16', '3/16', '3/8', '1/2', '1/1', '1/32', '7/32', '5/8')
  .map((text) => {
    const [num, den] = text.split('/').map(Number);
    return wholeNotes(num ?? 1, den ?? 1);
  });

const noteArbitrary: fc.Arbitrary<Note> = fc.record({
  kind: fc.constant('note' as const),
  pitches: fc.oneof(
    { weight: 6, arbitrary: pitchArbitrary.map((p): Note['pitches'] => [p]) },
    { weight: 1, arbitrary: fc.tuple(pitchArbitrary, pitchArbitrary).map((p): Note['pitches'] => p) },
  ),
  length: lengthArbitrary,
  graces: fc.option(
    fc.record({
      pitches: fc
        .array(pitchArbitrary, { minLength: 1, maxLength: 3 })
        .map((p) => p as unknown as [Pitch, ...Pitch[]]),
      slashed: fc.boolean(),
    }),
    { freq: 4 },
  ),
  signs: fc.subarray<Note['signs'][number]>(
    ['roll', 'slide', 'trill', 'turn', 'upperMordent', 'lowerMordent'],
    { maxLength: 1 },
  ),
  marks: fc.subarray<Note['marks'][number]>(
    ['staccato', 'accent', 'fermata', 'tenuto', 'segno', 'coda', 'fine', 'dacapo', 'dalsegno', 'breath'],
    { maxLength: 2 },
  ),
  bow: fc.option(fc.constantFrom<'up' | 'down'>('up', 'down'), { freq: 3 }),
  fingers: fc.array(fc.constantFrom<0 | 1 | 2 | 3 | 4>(0, 1, 2, 3, 4), { maxLength: 1 }),
  slurs: fc.constant({ opens: 0, closes: 0 }),
  tiedToNext: fc.boolean(),
  tuplet: fc.constant(null),
  beamedToNext: fc.boolean(),
  otherDecorations: fc.subarray(['arpeggio', 'open', 'crescendo('], { maxLength: 1 }),
  lyric: fc.option(fc.constantFrom('la', 'lo-', '_', 'a b', 'x*y', '50%', 'é', 'a-b', 'o|o', 'c\\d'), {
    freq: 5,
  }),
});

const restArbitrary: fc.Arbitrary<Event> = fc.record({
  kind: fc.constant('rest' as const),
  length: lengthArbitrary,
  visible: fc.boolean(),
  tuplet: fc.constant(null),
  beamedToNext: fc.boolean(),
  marks: fc.subarray<Note['marks'][number]>(['fermata', 'coda'], { maxLength: 1 }),
});

const tripletArbitrary: fc.Arbitrary<readonly Event[]> = fc
  .tuple(
    fc.array(noteArbitrary, { minLength: 2, maxLength: 5 }),
    fc.constantFrom([3, 2], [5, 4], [2, 3], [6, 2]),
  )
  .map(([notes, [actual = 3, normal = 2]]) =>
    notes.map((note, index) => ({
      ...note,
      length: asWholeNotes(rational(normal, 8 * actual)),
      tuplet: { actual, normal, index, count: notes.length },
    })),
  );

/** What stands in one bar: notes, rests, tuplets; bars need not be full. */
export const eventsArbitrary: fc.Arbitrary<readonly Event[]> = fc
  .array(
    fc.oneof(
      { weight: 8, arbitrary: noteArbitrary.map((n): readonly Event[] => [n]) },
      { weight: 1, arbitrary: restArbitrary.map((r): readonly Event[] => [r]) },
      { weight: 1, arbitrary: tripletArbitrary },
    ),
    { minLength: 1, maxLength: 6 },
  )
  .map((groups) =>
    groups.flat().map((e, i, all) => (i === all.length - 1 ? { ...e, beamedToNext: false } : e)),
  );
