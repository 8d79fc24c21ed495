import { isSamePitch, type Pitch, pitchAtStaffStep, staffStepOf } from '../../../music/index.ts';
import { type Address, addressKey, melodyFirst, notesOf, type Score } from '../../../score/index.ts';
import { readTuneAt } from '../book.ts';
import { OCTAVES } from '../limits.ts';
import { noteSignAt } from '../scanner.ts';
import { ACCIDENTAL_SIGNS, letterOf } from '../writeNote.ts';
import { type EditProblem, problem, type TextChange } from './noteEdit.ts';
import { applied, type Plan, planOf, type Signs, type Source, withNote } from './plan.ts';
import { noteAt, placeBefore, type WrittenNote } from './writtenEvent.ts';

/** A written pitch: a note's, a chord tone's or a grace note's. */
interface WrittenPitch {
  readonly key: string;
  readonly at: Address;
  readonly pitch: Pitch;
  /** Where its accidental begins, its letter, and its length. */
  readonly start: number;
  readonly letter: number;
  readonly end: number;
}

/** Where in the text the pitch at an address is written; null when it can't be told from others. */
export const pitchPlace = (
  source: Source,
  at: Address,
): Pick<WrittenPitch, 'start' | 'letter' | 'end'> | null => {
  const { text, tune } = source;
  const own = tune.spans.get(addressKey(at));
  if (own === undefined) return null;
  let start = own.start;
  if (at.grace === undefined && at.tone === undefined) {
    const note = noteAt(source, at);
    if (note.kind === 'problem') return null;
    const others = note.event.pitches.map((_, tone) => tune.spans.get(addressKey({ ...at, tone }))?.start);
    const melody = note.tokens.find((t) => t.kind === 'note' && !others.slice(1).includes(t.start));
    if (melody === undefined) return null;
    start = melody.start;
  }
  const sign = noteSignAt(text, start);
  if (sign === null || (at.grace !== undefined && sign.end > own.end)) return null;
  let letter = start;
  while (!/[A-Ga-g]/.test(text.charAt(letter))) letter += 1;
  return { start, letter, end: sign.end };
};

const pitchOfNote = ({ event }: WrittenNote, { grace, tone }: Address): Pitch | undefined =>
  grace === undefined ? event.pitches[tone ?? 0] : event.graces?.pitches[grace];

const writtenPitch = (source: Source, at: Address): WrittenPitch | EditProblem => {
  const note = noteAt(source, at);
  if (note.kind === 'problem') return note;
  const pitch = pitchOfNote(note, at);
  if (pitch === undefined) return problem('There is no note any more where this was pointed at.');
  const place = pitchPlace(source, at);
  if (place === null)
    return problem('This note is written by a macro (m:). Write it out in the text to change it.');
  return { key: addressKey(at), at, pitch, ...place };
};

const withTone = (address: Address, tone: number): Address => (tone === 0 ? address : { ...address, tone });

/** The address and those of the notes that are tied to it: they sound as one. */
const tiedWith = (score: Score, at: Address): readonly Address[] => {
  if (at.grace !== undefined) return [at];
  const notes = notesOf(score);
  const key = addressKey({ part: at.part, bar: at.bar, onset: at.onset });
  const here = notes.findIndex(({ address }) => addressKey(address) === key);
  const pitch = notes[here]?.note.pitches[at.tone ?? 0];
  if (pitch === undefined) return [at];
  const toneIn = (index: number): Address | null => {
    const found = notes[index];
    const tone = found?.note.pitches.findIndex((p) => isSamePitch(p, pitch)) ?? -1;
    return found === undefined || tone < 0 ? null : withTone(found.address, tone);
  };
  const chain: Address[] = [at];
  for (let i = here; notes[i]?.note.tiedToNext === true; i += 1) {
    const next = toneIn(i + 1);
    if (next === null) break;
    chain.push(next);
  }
  for (let i = here - 1; notes[i]?.note.tiedToNext === true; i -= 1) {
    const before = toneIn(i);
    if (before === null) break;
    chain.unshift(before);
  }
  return chain;
};

/** The pitches that stand at the addresses, tied ones along with them, each once, in order of writing. */
const withTies = (source: Source, at: readonly Address[]): readonly WrittenPitch[] | EditProblem => {
  const found = new Map<string, WrittenPitch>();
  for (const address of at.flatMap((a) => tiedWith(source.tune.score, a))) {
    const written = writtenPitch(source, address);
    if ('kind' in written) return written;
    found.set(written.key, written);
  }
  return [...found.values()].toSorted((a, b) => a.start - b.start);
};

/** The score with pitches changed; in a chord the order of tones is looked at again. */
const withPitches = (source: Source, changed: readonly (WrittenPitch & { readonly to: Pitch })[]): Score => {
  let { score } = source.tune;
  const touched = new Map(
    changed.map(({ at }) => [addressKey({ part: at.part, bar: at.bar, onset: at.onset }), at]),
  );
  const to = new Map(changed.map((c) => [c.key, c.to]));
  for (const at of touched.values()) {
    const note = noteAt(source, at);
    if (note.kind === 'problem') continue;
    const base = { part: at.part, bar: at.bar, onset: note.onset };
    const tones = note.event.pitches.map((old, tone) => ({
      pitch: to.get(addressKey(withTone(base, tone))) ?? old,
      start: pitchPlace(source, withTone(base, tone))?.start ?? 0,
    }));
    const [first, ...others] = tones.toSorted((a, b) => a.start - b.start).map(({ pitch }) => pitch);
    score = withNote(score, note, (n) => ({
      ...n,
      pitches: first === undefined ? n.pitches : melodyFirst([first, ...others]),
      graces:
        n.graces === null
          ? null
          : {
              ...n.graces,
              pitches: graced(n.graces.pitches, (p, grace) => to.get(addressKey({ ...base, grace })) ?? p),
            },
    }));
  }
  return score;
};

const graced = (
  [first, ...others]: readonly [Pitch, ...Pitch[]],
  change: (pitch: Pitch, index: number) => Pitch,
): readonly [Pitch, ...Pitch[]] => [change(first, 0), ...others.map((p, i) => change(p, i + 1))];

const signed = (signs: Signs, key: string): string => {
  const alter = signs.get(key);
  return alter === undefined ? '' : ACCIDENTAL_SIGNS[alter];
};

const isAbsurd = ({ octave }: Pitch): boolean => octave < OCTAVES.lowest || octave > OCTAVES.highest;

const planTo = (
  source: Source,
  changed: readonly (WrittenPitch & { readonly to: Pitch })[],
): Plan | EditProblem => {
  if (changed.every(({ pitch, to }) => isSamePitch(pitch, to))) return planOf(source.tune.score, [[]]);
  if (changed.some(({ to }) => isAbsurd(to))) return problem('That is outside all hearing.');
  return {
    kind: 'plan',
    expected: withPitches(source, changed),
    owned: new Set(changed.map(({ key }) => key)),
    movesOnsets: false,
    ways: [
      (signs) =>
        changed.map(({ key, start, end, to }) => ({
          from: start,
          to: end,
          insert: signed(signs, key) + letterOf(to),
        })),
    ],
  };
};

/** A note set to a pitch, with those that are tied to it. */
export const pitchPlan = (source: Source, at: Address, to: Pitch): Plan | EditProblem => {
  const written = withTies(source, [at]);
  if ('kind' in written) return written;
  return planTo(
    source,
    written.map((w) => ({ ...w, to })),
  );
};

/** Notes moved by octaves; each keeps its accidental. */
export const octavePlan = (source: Source, at: readonly Address[], by: number): Plan | EditProblem => {
  const written = withTies(source, at);
  if ('kind' in written) return written;
  return planTo(
    source,
    written.map((w) => ({ ...w, to: { ...w.pitch, octave: w.pitch.octave + by } })),
  );
};

/** Notes moved by steps of the staff; each sounds as its letter reads where it stands, without a sign of its own. */
export const stepPlan = (source: Source, at: readonly Address[], by: number): Plan | EditProblem => {
  const written = withTies(source, at);
  if ('kind' in written) return written;
  const moved = written.map((w) => ({ ...w, to: pitchAtStaffStep(staffStepOf(w.pitch) + by, 0) }));
  if (moved.some(({ to }) => isAbsurd(to))) return problem('That is outside all hearing.');
  if (by === 0) return planOf(source.tune.score, [[]]);
  const changes = moved.map(
    ({ start, end, to }): TextChange => ({ from: start, to: end, insert: letterOf(to) }),
  );
  const { score } = readTuneAt(applied(source.text, changes), source.tune.span.start);
  const heard = new Map<string, Pitch[]>();
  for (const { note, address } of notesOf(score)) {
    heard.set(addressKey(address), [...note.pitches]);
    note.graces?.pitches.forEach((p, grace) => {
      heard.set(addressKey({ ...address, grace }), [p]);
    });
  }
  return planTo(
    source,
    moved.map((m) => {
      const { grace, part, bar, onset } = m.at;
      const tones = heard.get(addressKey(grace === undefined ? { part, bar, onset } : m.at)) ?? [];
      return { ...m, to: tones.find((p) => p.step === m.to.step && p.octave === m.to.octave) ?? m.to };
    }),
  );
};

/** The grace notes before a note put, changed, or taken away. */
export const gracesPlan = (source: Source, at: Address, pitches: readonly Pitch[]): Plan | EditProblem => {
  const note = noteAt(source, at);
  if (note.kind === 'problem') return note;
  const { score } = source.tune;
  const before = note.event.graces;
  const [first, ...others] = pitches;
  const same =
    pitches.length === (before?.pitches.length ?? 0) &&
    pitches.every((p, i) => before?.pitches[i] !== undefined && isSamePitch(p, before.pitches[i] as Pitch));
  if (same) return planOf(score, [[]]);
  if (pitches.some(isAbsurd)) return problem('That is outside all hearing.');
  const { decorations, texts, graces } = note.signs;
  if (before !== null && graces.length === 0)
    return problem(
      'These grace notes are written by a macro (m:). Write them out in the text to change them.',
    );
  const slashed = before?.slashed ?? false;
  const expected = withNote(score, note, (n) => ({
    ...n,
    graces: first === undefined ? null : { pitches: [first, ...others], slashed },
  }));
  const base = { part: note.part, bar: note.bar, onset: note.onset };
  const keys = pitches.map((_, grace) => addressKey({ ...base, grace }));
  const [group, ...more] = graces;
  const place = placeBefore(
    note.span.start,
    [...decorations, ...texts].map(({ span }) => span),
  );
  const written = (signs: Signs): string =>
    first === undefined
      ? ''
      : `{${slashed ? '/' : ''}${pitches.map((p, i) => signed(signs, keys[i] ?? '') + letterOf(p)).join('')}}`;
  return {
    kind: 'plan',
    expected,
    owned: new Set([...keys, ...(before?.pitches ?? []).map((_, grace) => addressKey({ ...base, grace }))]),
    movesOnsets: false,
    ways: [
      (signs) => [
        { from: group?.start ?? place, to: group?.end ?? place, insert: written(signs) },
        ...more.map(({ start, end }) => ({ from: start, to: end, insert: '' })),
      ],
    ],
  };
};
