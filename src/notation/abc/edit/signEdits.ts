import type { Span } from '../../../core/index.ts';
import type { Address, Bow, Finger, OrnamentSign } from '../../../score/index.ts';
import { type Decoration, decorationNamed, writtenBow, writtenFinger, writtenSign } from '../decorations.ts';
import { type EditProblem, problem, type TextChange } from './noteEdit.ts';
import { type Plan, planOf, type Source, withNote } from './plan.ts';
import { noteAt, type WrittenNote } from './writtenEvent.ts';

const ON_ANOTHER_LINE = 'This sign is written in the line s: below the music. Change it there.';

const put = (at: number, insert: string): TextChange => ({ from: at, to: at, insert });
const cut = ({ start, end }: Span): TextChange => ({ from: start, to: end, insert: '' });
const swap = ({ start, end }: Span, insert: string): TextChange => ({ from: start, to: end, insert });

const isSame = (a: Decoration, b: Decoration): boolean => JSON.stringify(a) === JSON.stringify(b);

/** The decorations of a note that are of one kind, in order of writing. */
const decorationsOf = (note: WrittenNote, isOne: (decoration: Decoration) => boolean): readonly Span[] =>
  note.signs.decorations.filter(({ name }) => isOne(decorationNamed(name))).map(({ span }) => span);

/** Ways to write a decoration: as this tune does most often, by its short mark, by its name. */
const formsOf = (
  { text, tune }: Source,
  wanted: Decoration,
  short: string,
  name: string,
): readonly string[] => {
  const counts = new Map<string, number>();
  for (const { decorations } of tune.signs.values())
    for (const { name: found, span } of decorations) {
      if (!isSame(decorationNamed(found), wanted)) continue;
      const form = text.slice(span.start, span.end);
      counts.set(form, (counts.get(form) ?? 0) + 1);
    }
  const used = [...counts].sort((a, b) => b[1] - a[1]).map(([form]) => form);
  return [...new Set([...used, short, `!${name}!`])];
};

/** A finger put on a note or a tone of it, changed, or taken away. */
export const fingerPlan = (source: Source, at: Address, finger: Finger | null): Plan | EditProblem => {
  const note = noteAt(source, at);
  if (note.kind === 'problem') return note;
  if (at.grace !== undefined) return problem('A finger is written over a note, not over a grace note.');
  const tone = at.tone ?? 0;
  const { fingers } = note.event;
  const written = decorationsOf(note, ({ kind }) => kind === 'finger');
  if (written.length !== fingers.length) return problem(ON_ANOTHER_LINE);
  const here = written[tone];
  if (tone > fingers.length || (finger === null && tone < fingers.length - 1))
    return problem(
      'The fingers of notes that sound together are written from the melody on. Begin with the other note.',
    );
  if ((fingers[tone] ?? null) === finger) return planOf(source.tune.score, [[]]);
  const others = fingers.slice(tone + 1);
  const expected = withNote(source.tune.score, note, (n) => ({
    ...n,
    fingers: [...fingers.slice(0, tone), ...(finger === null ? [] : [finger]), ...others],
  }));
  if (finger === null) return planOf(expected, here === undefined ? [] : [[cut(here)]]);
  const forms = formsOf(source, { kind: 'finger', finger }, writtenFinger(finger), `${finger}`);
  const place = written[tone - 1]?.end ?? note.span.start;
  return planOf(
    expected,
    forms.map((form) => [here === undefined ? put(place, form) : swap(here, form)]),
  );
};

/** A bow direction put on a note, changed, or taken away. */
export const bowPlan = (source: Source, at: Address, bow: Bow | null): Plan | EditProblem => {
  const note = noteAt(source, at);
  if (note.kind === 'problem') return note;
  if (note.event.bow === bow) return planOf(source.tune.score, [[]]);
  const written = decorationsOf(note, ({ kind }) => kind === 'bow');
  if (note.event.bow !== null && written.length === 0) return problem(ON_ANOTHER_LINE);
  const expected = withNote(source.tune.score, note, (n) => ({ ...n, bow }));
  if (bow === null) return planOf(expected, [written.map(cut)]);
  const last = written.at(-1);
  const forms = formsOf(source, { kind: 'bow', bow }, writtenBow(bow), `${bow}bow`);
  return planOf(
    expected,
    forms.map((form) => [last === undefined ? put(note.span.start, form) : swap(last, form)]),
  );
};

const LONG_NAMES: Readonly<Record<OrnamentSign, string>> = {
  roll: 'roll',
  slide: 'slide',
  trill: 'trill',
  turn: 'turn',
  upperMordent: 'uppermordent',
  lowerMordent: 'lowermordent',
};

/** An ornament sign put on a note or taken off. */
export const signPlan = (
  source: Source,
  at: Address,
  { sign, on }: { readonly sign: OrnamentSign; readonly on: boolean },
): Plan | EditProblem => {
  const note = noteAt(source, at);
  if (note.kind === 'problem') return note;
  const { signs } = note.event;
  if (signs.includes(sign) === on) return planOf(source.tune.score, [[]]);
  const expected = withNote(source.tune.score, note, (n) => ({
    ...n,
    signs: on ? [...signs, sign] : signs.filter((s) => s !== sign),
  }));
  if (on) {
    const forms = formsOf(source, { kind: 'sign', sign }, writtenSign(sign), LONG_NAMES[sign]);
    return planOf(
      expected,
      forms.map((form) => [put(note.span.start, form)]),
    );
  }
  const written = decorationsOf(note, (d) => d.kind === 'sign' && d.sign === sign);
  if (written.length !== signs.filter((s) => s === sign).length) return problem(ON_ANOTHER_LINE);
  return planOf(expected, [written.map(cut)]);
};
