import fc from 'fast-check';
import { asWholeNotes, rational, wholeNotes } from '../../core/index.ts';
import {
  type Alter,
  type Key,
  keyOf,
  MODES,
  NO_KEY,
  type Pitch,
  pitchClass,
  STEPS,
} from '../../music/index.ts';
import {
  assembleParts,
  type Event,
  type GraceNotes,
  type LooseBar,
  type Note,
  type Score,
} from '../../score/index.ts';

const pitches: fc.Arbitrary<Pitch> = fc.record({
  step: fc.constantFrom(...STEPS),
  alter: fc.constantFrom<Alter>(0, 0, 0, 1, -1, 2, -2),
  octave: fc.integer({ min: 3, max: 6 }),
});
const tones = fc
  .uniqueArray(pitches, { minLength: 1, maxLength: 2, selector: (p) => `${p.step}${p.octave}` })
  .map((all) => all as unknown as readonly [Pitch, ...Pitch[]]);

/** Lengths of the trade, and some that need tied notes or stand outside all halving. */
const lengths = fc.oneof(
  { weight: 6, arbitrary: fc.constantFrom('1/8', '1/4', '1/16', '3/8', '3/16', '1/2', '1/32') },
  { weight: 2, arbitrary: fc.constantFrom('5/8', '7/16', '5/32', '9/16', '1', '9/8', '11/32') },
  { weight: 1, arbitrary: fc.constantFrom('1/12', '1/24', '1/20', '5/48') },
);
const wholeNotesOf = (text: string) => {
  const [num = '1', den = '1'] = text.split('/');
  return wholeNotes(Number(num), Number(den));
};

const graces: fc.Arbitrary<GraceNotes | null> = fc.option(
  fc.record({
    pitches: fc
      .array(pitches, { minLength: 1, maxLength: 3 })
      .map((all) => all as unknown as readonly [Pitch, ...Pitch[]]),
    slashed: fc.boolean(),
  }),
  { freq: 5 },
);

const notes: fc.Arbitrary<Note> = fc.record({
  kind: fc.constant('note' as const),
  pitches: tones,
  length: lengths.map(wholeNotesOf),
  graces,
  signs: fc.subarray(['roll', 'slide', 'trill', 'turn', 'upperMordent', 'lowerMordent'] as const, {
    maxLength: 2,
  }),
  marks: fc.subarray(
    [
      'staccato',
      'accent',
      'fermata',
      'tenuto',
      'segno',
      'coda',
      'fine',
      'dacapo',
      'dalsegno',
      'breath',
    ] as const,
    { maxLength: 2 },
  ),
  bow: fc.constantFrom(null, 'up' as const, 'down' as const),
  fingers: fc.subarray([0, 2] as const),
  slurs: fc.record({ opens: fc.integer({ min: 0, max: 2 }), closes: fc.integer({ min: 0, max: 2 }) }),
  tiedToNext: fc.boolean(),
  tuplet: fc.constant(null),
  beamedToNext: fc.boolean(),
  otherDecorations: fc.subarray(['mf', 'arpeggio', '<&">', 'sfz']),
  lyric: fc.option(fc.constantFrom('fid-', 'dle', '*', '_', ' ', '-', 'a<b', '\u0001')),
});
const rests: fc.Arbitrary<Event> = fc.record({
  kind: fc.constant('rest' as const),
  length: lengths.map(wholeNotesOf),
  visible: fc.boolean(),
  tuplet: fc.constant(null),
  beamedToNext: fc.boolean(),
  marks: fc.subarray(['fermata', 'segno'] as const),
});
const events = fc.oneof(
  { weight: 5, arbitrary: notes as fc.Arbitrary<Event> },
  { weight: 1, arbitrary: rests },
);

/** A tuplet of three, four or five events; sometimes one of them is lost, as when a version drops notes. */
const tuplets: fc.Arbitrary<readonly Event[]> = fc
  .tuple(
    fc.constantFrom([3, 2], [2, 3], [5, 4]),
    fc.array(events, { minLength: 5, maxLength: 5 }),
    fc.integer({ min: 0, max: 9 }),
  )
  .map(([[actual = 3, normal = 2], all, lost]) =>
    all
      .slice(0, actual)
      .map((event, index) => ({
        ...event,
        length: asWholeNotes(rational(normal, 8 * actual)),
        tuplet: { actual, normal, index, count: actual },
      }))
      .filter((_, i) => i !== lost),
  );

const keys: fc.Arbitrary<Key> = fc
  .record({
    tonic: fc.constantFrom('C', 'D', 'G', 'A', 'E', 'F', 'Bb'),
    mode: fc.constantFrom(...MODES),
    altered: fc.option(fc.tuple(fc.constantFrom(...STEPS), fc.constantFrom<Alter>(-1, 0, 1))),
    none: fc.integer({ min: 0, max: 9 }),
  })
  .map(({ tonic, mode, altered, none }) => {
    if (none === 0) return NO_KEY;
    const [name, chosen] =
      tonic === 'F' && mode === 'locrian' ? (['F', 'major'] as const) : ([tonic, mode] as const);
    const key = keyOf(pitchClass(name), name === 'Bb' && chosen === 'locrian' ? 'major' : chosen);
    return altered === null ? key : { ...key, accidentals: { ...key.accidentals, [altered[0]]: altered[1] } };
  });

const bars = (key: Key): fc.Arbitrary<LooseBar> =>
  fc.record({
    events: fc
      .array(fc.oneof({ weight: 4, arbitrary: events.map((e) => [e]) }, { weight: 1, arbitrary: tuplets }), {
        minLength: 1,
        maxLength: 8,
      })
      .map((groups) => groups.flat()),
    key: fc.oneof({ weight: 5, arbitrary: fc.constant(key) }, { weight: 1, arbitrary: keys }),
    metre: fc.constantFrom(
      { kind: 'measured' as const, count: 4, unit: 4, symbol: 'common' as const },
      { kind: 'measured' as const, count: 6, unit: 8 },
      { kind: 'measured' as const, count: 7, unit: 8, groups: [2, 2, 3] },
      { kind: 'free' as const },
    ),
    repeatStart: fc.constantFrom(0, 0, 0, 1, 2),
    repeatEnd: fc.constantFrom(0, 0, 0, 1, 2),
    line: fc.constantFrom(
      'single',
      'single',
      'double',
      'final',
      'heavyDouble',
      'startHeavy',
      'dotted',
      'invisible',
      'none',
    ),
    ending: fc.option(fc.constantFrom([1], [2], [1, 3], []), { freq: 5 }),
    chords: fc.constantFrom(
      [],
      [
        {
          onset: wholeNotes(1, 16),
          chord: { root: pitchClass('F#'), quality: 'minorSeventh' as const },
          text: 'F#m7',
        },
      ],
      [
        {
          onset: wholeNotes(9),
          chord: { root: pitchClass('G'), quality: 'major' as const, bass: pitchClass('Bb') },
          text: 'G/Bb',
        },
      ],
    ),
    annotations: fc.constantFrom(
      [],
      [{ onset: wholeNotes(1, 24), place: 'below' as const, text: '<low> & "soft"' }],
    ),
    fields: fc.constant([]),
    tempo: fc.constantFrom(
      null,
      { beat: wholeNotes(3, 8), beatsPerMinute: 112.5, words: 'Lively' },
      { beat: wholeNotes(5, 8), beatsPerMinute: 60, words: '' },
      { beat: null, beatsPerMinute: null, words: 'freely' },
    ),
    lineEnd: fc.boolean(),
    partLabel: fc.constant(null),
  });

/** Scores that a sheet must survive: every sign, odd lengths, broken tuplets, unpaired slurs and ties, odd bar lines. */
export const paperScores: fc.Arbitrary<Score> = keys
  .chain((key) => fc.tuple(fc.constant(key), fc.array(bars(key), { minLength: 1, maxLength: 8 })))
  .map(([key, loose]) => ({
    number: 1,
    fields: [],
    metre: { kind: 'free' },
    key,
    unit: wholeNotes(1, 8),
    tempo: null,
    partOrder: null,
    parts: assembleParts(loose).parts,
  }));
