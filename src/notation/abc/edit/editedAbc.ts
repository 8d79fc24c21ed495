import type { Diagnostic } from '../../../core/index.ts';
import { type Alter, isSamePitch, type Pitch } from '../../../music/index.ts';
import { type Address, addressKey, notesOf, type Score } from '../../../score/index.ts';
import { readTuneAt } from '../book.ts';
import type { ReadTune } from '../readTune.ts';
import { ACCIDENTAL_SIGNS } from '../writeNote.ts';
import { chordPlan } from './chordEdit.ts';
import { lengthPlan } from './lengthEdit.ts';
import { type EditedAbc, type EditProblem, type NoteEdit, problem, type TextChange } from './noteEdit.ts';
import { gracesPlan, octavePlan, pitchPlace, pitchPlan, stepPlan } from './pitchEdit.ts';
import { applied, inOrder, type Plan, type Source } from './plan.ts';
import { bowPlan, fingerPlan, signPlan } from './signEdits.ts';
import { slurPlan } from './slurEdit.ts';

/** The plans of one edit at several places as one. Each is made for the score that the one before leaves. */
const atEach = (
  source: Source,
  at: readonly Address[],
  plan: (source: Source, at: Address) => Plan | EditProblem,
): Plan | EditProblem => {
  let whole: Plan = {
    kind: 'plan',
    ways: [() => []],
    expected: source.tune.score,
    owned: new Set(),
    movesOnsets: false,
  };
  for (const address of at) {
    const next = plan({ ...source, tune: { ...source.tune, score: whole.expected } }, address);
    if (next.kind === 'problem') return next;
    const count = Math.max(whole.ways.length, next.ways.length);
    const way = (plan: Plan, n: number): Plan['ways'][number] =>
      plan.ways[Math.min(n, plan.ways.length - 1)] ?? (() => []);
    const before = whole;
    whole = {
      ...next,
      ways: Array.from({ length: count }, (_, n) => (signs) => [
        ...way(before, n)(signs),
        ...way(next, n)(signs),
      ]),
    };
  }
  return whole;
};

const planFor = (source: Source, edit: NoteEdit): Plan | EditProblem => {
  switch (edit.kind) {
    case 'finger':
      return atEach(source, edit.at, (s, at) => fingerPlan(s, at, edit.finger));
    case 'bow':
      return atEach(source, edit.at, (s, at) => bowPlan(s, at, edit.bow));
    case 'sign':
      return atEach(source, edit.at, (s, at) => signPlan(s, at, edit));
    case 'graces':
      return gracesPlan(source, edit.at, edit.pitches);
    case 'chord':
      return chordPlan(source, edit.at, edit.text);
    case 'slur':
      return slurPlan(source, edit);
    case 'step':
      return stepPlan(source, edit.at, edit.by);
    case 'octave':
      return octavePlan(source, edit.at, edit.by);
    case 'pitch':
      return pitchPlan(source, edit.at, edit.pitch);
    case 'length':
      return lengthPlan(source, edit.at, { times: edit.times, partner: edit.with });
    default:
      return edit satisfies never;
  }
};

/** What the score says, as text to compare. */
const saying = (score: Score, withOnsets: boolean): string =>
  JSON.stringify(score, (key, value: unknown) => (key === 'onset' && !withOnsets ? undefined : value));

/** A pitch that is read otherwise than it should be, the first in order of reading. */
const firstWrongPitch = (
  expected: Score,
  read: Score,
): { readonly at: Address; readonly pitch: Pitch } | null => {
  const got = notesOf(read);
  for (const [i, { note, address }] of notesOf(expected).entries()) {
    const other = got[i]?.note;
    if (other === undefined) return null;
    const isWrong = (a: Pitch, b: Pitch | undefined): boolean =>
      b !== undefined && a.step === b.step && a.octave === b.octave && !isSamePitch(a, b);
    const graces = note.graces?.pitches ?? [];
    const grace = graces.findIndex((p, k) => isWrong(p, other.graces?.pitches[k]));
    if (grace >= 0) return { at: { ...address, grace }, pitch: graces[grace] as Pitch };
    const tone = note.pitches.findIndex((p, k) => isWrong(p, other.pitches[k]));
    if (tone >= 0)
      return { at: tone === 0 ? address : { ...address, tone }, pitch: note.pitches[tone] as Pitch };
  }
  return null;
};

/** What a fiddle can't reach is the player's affair, and is said where the tune is read. */
const OF_THE_FIDDLE = 'below-the-fiddle';

/** A problem that the old text has not. */
const newProblem = (before: readonly Diagnostic[], after: readonly Diagnostic[]): Diagnostic | null => {
  const left = new Map<string, number>();
  for (const { code } of before) left.set(code, (left.get(code) ?? 0) + 1);
  for (const diagnostic of after) {
    const { code, severity } = diagnostic;
    const count = left.get(code) ?? 0;
    left.set(code, count - 1);
    if (severity !== 'remark' && code !== OF_THE_FIDDLE && count <= 0) return diagnostic;
  }
  return null;
};

/** The signs that notes need which are not edited themselves, so that they sound as before. */
const repairs = (
  source: Source,
  plan: Plan,
  signs: ReadonlyMap<string, Address & { alter: Alter }>,
): TextChange[] =>
  [...signs].flatMap(([key, at]) => {
    const place = plan.owned.has(key) ? null : pitchPlace(source, at);
    return place === null
      ? []
      : [{ from: place.start, to: place.letter, insert: ACCIDENTAL_SIGNS[at.alter] }];
  });

/** Tries one way to write a plan: reads what comes of it and puts accidentals until nothing else sounds otherwise. */
const tried = (source: Source, plan: Plan, way: Plan['ways'][number]): EditedAbc => {
  const { text, tune } = source;
  const wanted = saying(plan.expected, !plan.movesOnsets);
  const signs = new Map<string, Address & { alter: Alter }>();
  for (;;) {
    const alters = new Map([...signs].map(([key, { alter }]) => [key, alter]));
    const change = inOrder([...way(alters), ...repairs(source, plan, signs)]);
    const result = applied(text, change);
    const read = readTuneAt(result, tune.span.start);
    if (saying(read.score, !plan.movesOnsets) === wanted) {
      const found = newProblem(tune.diagnostics, read.diagnostics);
      return found === null
        ? { kind: 'text', text: result, change }
        : problem(`That cannot be written here: ${found.message}`);
    }
    const wrong = firstWrongPitch(plan.expected, read.score);
    const key = wrong === null ? '' : addressKey(wrong.at);
    if (wrong === null || signs.has(key))
      return problem('That cannot be written here without changing other notes. Change it in the text.');
    signs.set(key, { ...wrong.at, alter: wrong.pitch.alter });
  }
};

/**
 * The text of a tune with something about its notes changed, as pointed at: nothing else sounds or reads otherwise.
 *
 * Only the signs of these notes are touched, and accidentals of others where they need one to sound as before; spaces,
 * beams, comments and all else stay as they are. What is written already is not written again. The new text is read
 * before it is handed out: it says just what was asked, with no error or warning more than the old one, or the edit is
 * refused in words.
 * @param text - the whole text that `tune` was read from
 * @throws RangeError when the text has no tune where `tune` says (a caller's bug)
 * @example editedAbc(text, tune, { kind: 'finger', at: [address], finger: 4 }) // "… B2 …" → "… !4!B2 …"
 */
export const editedAbc = (text: string, tune: ReadTune, edit: NoteEdit): EditedAbc => {
  const source: Source = { text, tune };
  const plan = planFor(source, edit);
  if (plan.kind === 'problem') return plan;
  if (plan.expected === tune.score) return { kind: 'text', text, change: [] };
  let refused: EditedAbc = problem('That cannot be written here. Change it in the text.');
  for (const way of plan.ways) {
    refused = tried(source, plan, way);
    if (refused.kind === 'text') return refused;
  }
  return refused;
};
