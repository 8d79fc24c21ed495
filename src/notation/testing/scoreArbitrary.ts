import fc from 'fast-check';
import { add, asWholeNotes, type Rational, type WholeNotes, wholeNotes, ZERO } from '../../core/index.ts';
import { type Key, type Metre, metre, type Pitch, readChord } from '../../music/index.ts';
import {
  type Annotation,
  assembleParts,
  type Bar,
  type ChordSymbol,
  type Event,
  type Field,
  type LooseBar,
  melodyFirst,
  type Note,
  plainNote,
  type Score,
  type Tempo,
} from '../../score/index.ts';

import {
  eventsArbitrary,
  keyArbitrary,
  lineOfText,
  metreArbitrary,
  modalKey,
  pitchArbitrary,
} from './eventArbitraries.ts';

const chordArbitrary = fc.constantFrom('G', 'Am', 'D7', 'F#m', 'Bb', 'G/B', 'Em7', 'C5', '(D)');

interface Over {
  readonly at: number;
  readonly chord: string | null;
  readonly words: string | null;
  readonly place: Annotation['place'];
  readonly field: Field | null;
}

const overArbitrary: fc.Arbitrary<Over> = fc.record({
  at: fc.nat(5),
  chord: fc.option(chordArbitrary),
  words: fc.option(lineOfText, { freq: 3 }),
  place: fc.constantFrom('above', 'below', 'left', 'right'),
  field: fc.option(
    fc
      .record({ code: fc.constantFrom('%', '%%', 'N', 'r', 'T'), value: lineOfText })
      .map((f): Field => (f.code === '%%' ? { ...f, value: 'newpage' } : f)),
    { freq: 4 },
  ),
});

const onsetOf = (events: readonly Event[], at: number): WholeNotes => {
  let onset: Rational = ZERO;
  for (const event of events.slice(0, at)) onset = add(onset, event.length);
  return asWholeNotes(onset);
};

const byOnset = (a: { onset: Rational }, b: { onset: Rational }): number =>
  a.onset.num * b.onset.den - b.onset.num * a.onset.den;

const textsFor = (
  events: readonly Event[],
  overs: readonly Over[],
): Pick<LooseBar, 'chords' | 'annotations' | 'fields'> => {
  const chords: ChordSymbol[] = [];
  const annotations: Annotation[] = [];
  const fields: LooseBar['fields'][number][] = [];
  for (const { at, chord, words, place, field } of overs) {
    if (at >= events.length) continue;
    const onset = onsetOf(events, at);
    const read = chord === null ? null : readChord(chord);
    if (chord !== null && read !== null) chords.push({ onset, chord: read, text: chord });
    if (words !== null) annotations.push({ onset, place, text: words });
    if (field !== null) fields.push({ ...field, onset });
  }
  return {
    chords: chords.toSorted(byOnset),
    annotations: annotations.toSorted(byOnset),
    fields: fields.toSorted(byOnset),
  };
};

const tempoArbitrary: fc.Arbitrary<Tempo> = fc.oneof(
  fc.record({
    beat: fc.constantFrom(wholeNotes(1, 4), wholeNotes(3, 8), wholeNotes(1, 2)),
    beatsPerMinute: fc.integer({ min: 30, max: 240 }),
    words: fc.constantFrom('', 'Lively', 'Not too fast & easy'),
  }),
  fc.constant({ beat: null, beatsPerMinute: null, words: 'Slow' }),
);

interface Sketch {
  readonly events: readonly Event[];
  readonly overs: readonly Over[];
  readonly line: Bar['line'];
  readonly repeatStart: number;
  readonly repeatEnd: number;
  readonly ending: readonly number[] | null;
  readonly lineEnd: boolean;
  readonly key: Key | null;
  readonly metre: Metre | null;
  readonly tempo: Tempo | null;
  readonly label: string | null;
}

const sketchArbitrary: fc.Arbitrary<Sketch> = fc.record({
  events: eventsArbitrary,
  overs: fc.array(overArbitrary, { maxLength: 2 }),
  line: fc.constantFrom<Bar['line']>(
    'single',
    'single',
    'single',
    'double',
    'final',
    'dotted',
    'invisible',
    'startHeavy',
    'none',
  ),
  repeatStart: fc.constantFrom(0, 0, 0, 0, 1, 2),
  repeatEnd: fc.constantFrom(0, 0, 0, 0, 1, 2),
  ending: fc.option(fc.constantFrom([1], [2], [1, 3], [1, 2, 3]), { freq: 6 }),
  lineEnd: fc.boolean(),
  key: fc.option(keyArbitrary, { freq: 6 }),
  metre: fc.option(metreArbitrary, { freq: 6 }),
  tempo: fc.option(tempoArbitrary, { freq: 8 }),
  label: fc.option(fc.constantFrom('A', 'B', 'C'), { freq: 4 }),
});

/** Tones whose first is the melody also to a reader; else the melody alone. */
const readable = (tones: Note['pitches']): Note['pitches'] =>
  melodyFirst(tones)[0] === tones[0] ? tones : [tones[0]];

/** Ties lead to a note of the same pitch: where none follows, the next note gets it, or the tie goes. */
const tiedRight = (bars: readonly LooseBar[]): readonly LooseBar[] => {
  let carried: Pitch | null = null;
  const last = bars.flatMap((b) => b.events).at(-1);
  return bars.map((bar, at) => ({
    ...bar,
    events: bar.events.map((event, i, events): Event => {
      if (event.kind === 'rest') return event;
      const pitches: Note['pitches'] =
        carried === null ? melodyFirst(event.pitches) : readable([carried, ...event.pitches.slice(1)]);
      const next = events[i + 1] ?? bars[at + 1]?.events[0];
      const tied = event.tiedToNext && event !== last && next?.kind === 'note';
      carried = tied ? pitches[0] : null;
      return { ...event, pitches, tiedToNext: tied };
    }),
  }));
};

/** Every third note opens a slur and the next closes it: balanced, across bars too. */
const slurredRight = (bars: readonly LooseBar[], every: number): readonly LooseBar[] => {
  const total = bars.flatMap((b) => b.events).filter((e) => e.kind === 'note').length;
  let count = 0;
  return bars.map((bar) => ({
    ...bar,
    events: bar.events.map((event): Event => {
      if (event.kind === 'rest') return event;
      const place = count % every;
      count += 1;
      if (place === 0 && count < total) return { ...event, slurs: { opens: 1, closes: 0 } };
      return place === 1 ? { ...event, slurs: { opens: 0, closes: 1 } } : event;
    }),
  }));
};

const asBars = (
  sketches: readonly Sketch[],
  key: Key,
  firstMetre: Metre,
  named: boolean,
): readonly LooseBar[] => {
  let currentKey = key;
  let currentMetre = firstMetre;
  return sketches.map((sketch, i): LooseBar => {
    const next = sketches[i + 1];
    const first = i === 0;
    currentKey = first ? key : (sketch.key ?? currentKey);
    currentMetre = first ? firstMetre : (sketch.metre ?? currentMetre);
    // A bar without a line goes on in the next line of music, where no repeat or ending begins.
    const open = sketch.line === 'none' && sketch.repeatEnd === 0 && next?.repeatStart === 0;
    const texts = textsFor(sketch.events, sketch.overs);
    return {
      events: sketch.events,
      key: currentKey,
      metre: currentMetre,
      repeatStart: sketch.repeatStart,
      repeatEnd: sketch.repeatEnd,
      line: sketch.repeatEnd > 0 || (sketch.line === 'none' && !open) ? 'single' : sketch.line,
      ending: sketch.ending,
      ...texts,
      // What a tune says before its first note is said in its header.
      fields: first ? texts.fields.filter((f) => f.onset.num > 0 || f.code.startsWith('%')) : texts.fields,
      tempo: first ? null : sketch.tempo,
      lineEnd: next === undefined || open || sketch.lineEnd,
      partLabel: named && (first || sketch.label !== null) ? (sketch.label ?? 'A') : null,
    };
  });
};

const headerArbitrary: fc.Arbitrary<readonly Field[]> = fc
  .array(
    fc.record({
      code: fc.constantFrom('C', 'R', 'S', 'N', 'O', 'Z', 'B', 'H', 'D', 'W', '%', '%%'),
      value: lineOfText,
    }),
    { maxLength: 5 },
  )
  .chain((fields) => fc.tuple(fc.constant(fields), lineOfText))
  .map(([fields, title]) => [
    { code: 'T', value: title },
    ...fields.map((f) => (f.code === '%%' ? { ...f, value: 'scale 0.8' } : f)),
  ]);

/**
 * Any score that can be written down: for laws such as "reading what was written gives the same score".
 *
 * Bars need not be full, endings and repeats need not make sense; ties and slurs are always right, and every list of
 * texts is in order of onset, as readers give it.
 */
export const scoreArbitrary: fc.Arbitrary<Score> = fc
  .record({
    number: fc.integer({ min: 0, max: 99_999 }),
    fields: headerArbitrary,
    key: keyArbitrary,
    metre: metreArbitrary,
    unit: fc.constantFrom(wholeNotes(1, 8), wholeNotes(1, 16), wholeNotes(1, 4)),
    tempo: fc.option(tempoArbitrary),
    sketches: fc.array(sketchArbitrary, { minLength: 1, maxLength: 6 }),
    named: fc.boolean(),
    ordered: fc.boolean(),
    slurEvery: fc.integer({ min: 2, max: 9 }),
  })
  .map(({ sketches, named, ordered, slurEvery, ...header }): Score => {
    const bars = slurredRight(tiedRight(asBars(sketches, header.key, header.metre, named)), slurEvery);
    const { parts } = assembleParts(bars);
    const letters = parts.filter((p) => p.named && p.label.length === 1).map((p) => p.label);
    return { ...header, partOrder: ordered && letters.length > 0 ? [...letters, ...letters] : null, parts };
  });

/** A small plain score in 4/4 for tests that need bars which are full: quavers and crotchets only. */
export const plainScoreArbitrary: fc.Arbitrary<Score> = fc
  .tuple(
    modalKey,
    fc.array(fc.array(pitchArbitrary, { minLength: 8, maxLength: 8 }), { minLength: 1, maxLength: 8 }),
  )
  .map(([key, bars]): Score => {
    const loose = bars.map(
      (pitches, i): LooseBar => ({
        events: pitches.map((p, k) => ({ ...plainNote(p, wholeNotes(1, 8)), beamedToNext: k % 4 !== 3 })),
        key,
        metre: metre(4, 4),
        repeatStart: 0,
        repeatEnd: 0,
        line: i === bars.length - 1 ? 'final' : 'single',
        ending: null,
        chords: [],
        annotations: [],
        fields: [],
        tempo: null,
        lineEnd: i % 4 === 3 || i === bars.length - 1,
        partLabel: null,
      }),
    );
    return {
      number: 1,
      fields: [{ code: 'T', value: 'Generated' }],
      metre: metre(4, 4),
      key,
      unit: wholeNotes(1, 8),
      tempo: null,
      partOrder: null,
      parts: assembleParts(loose).parts,
    };
  });
