import type { Span } from '../../../core/index.ts';
import { type Address, addressKey, barsOf, notesOf, type Score } from '../../../score/index.ts';
import { type EditProblem, problem, type TextChange } from './noteEdit.ts';
import { type Plan, planOf, type Source, withNote } from './plan.ts';
import { noteAt, placeBefore, type WrittenNote } from './writtenEvent.ts';

/** A slur by the places of its first and last note among all notes. */
interface Slur {
  readonly from: number;
  readonly to: number;
}

/**
 * The slurs of a score. On one note closing comes before opening, so `(cd(e)fg)` is c–e and e–g.
 * @see Source: ABC standard 2.1, section 4.11
 */
const slursOf = (score: Score): readonly Slur[] => {
  const open: number[] = [];
  const slurs: Slur[] = [];
  notesOf(score).forEach(({ note }, to) => {
    let unmet = 0;
    for (let n = 0; n < note.slurs.closes; n += 1) {
      const from = open.pop();
      if (from === undefined) unmet += 1;
      else slurs.push({ from, to });
    }
    for (let n = unmet; n < note.slurs.opens; n += 1) open.push(to);
  });
  return slurs;
};

const asText = (slurs: readonly Slur[]): string =>
  slurs
    .map(({ from, to }) => `${from}-${to}`)
    .sort()
    .join(' ');

const indexOf = (score: Score, note: WrittenNote): number => {
  const key = addressKey(note);
  return notesOf(score).findIndex(({ address }) => addressKey(address) === key);
};

/** Whether a repeat or an ending begins or ends between two notes: what is bowed there in one stroke is never played so. */
const isBroken = (score: Score, from: WrittenNote, to: WrittenNote): boolean => {
  const bars = barsOf(score);
  const place = ({ part, bar }: WrittenNote): number =>
    bars.findIndex((b) => b.part === part && b.index === bar);
  return bars
    .slice(place(from), place(to) + 1)
    .some(
      ({ bar }, i, all) =>
        (i > 0 && (bar.repeatStart > 0 || bar.ending !== null)) || (i < all.length - 1 && bar.repeatEnd > 0),
    );
};

const bracketBefore = (note: WrittenNote): number => {
  const { decorations, texts, graces, opens } = note.signs;
  return placeBefore(note.span.start, [
    ...decorations.map(({ span }) => span),
    ...texts.map(({ span }) => span),
    ...graces,
    ...opens,
  ]);
};

/** Behind the note and its tie. */
const bracketBehind = (text: string, { span }: WrittenNote): number => {
  const tie = ['-', '.-'].find((sign) => text.startsWith(sign, span.end));
  return span.end + (tie?.length ?? 0);
};

const slurOn = (source: Source, from: WrittenNote, to: WrittenNote): Plan | EditProblem => {
  const { score } = source.tune;
  const wanted = { from: indexOf(score, from), to: indexOf(score, to) };
  const before = slursOf(score);
  if (wanted.from === wanted.to)
    return problem('A slur joins two notes or more. Choose its first and its last note.');
  if (before.some((s) => s.from === wanted.from && s.to === wanted.to)) return planOf(score, [[]]);
  if (isBroken(score, from, to))
    return problem('A slur cannot go over the end of a repeat or the beginning of an ending.');
  const opened = withNote(score, from, (n) => ({ ...n, slurs: { ...n.slurs, opens: n.slurs.opens + 1 } }));
  const expected = withNote(opened, to, (n) => ({ ...n, slurs: { ...n.slurs, closes: n.slurs.closes + 1 } }));
  if (asText(slursOf(expected)) !== asText([...before, wanted]))
    return problem('This slur would begin inside another and end outside it. Take the other away first.');
  const open = bracketBefore(from);
  const close = bracketBehind(source.text, to);
  return planOf(expected, [
    [
      { from: open, to: open, insert: '(' },
      { from: close, to: close, insert: ')' },
    ],
  ]);
};

const cutOpen = (text: string, { start, end }: Span): TextChange => ({
  // The dot of a dotted slur goes with it.
  from: text.charAt(start - 1) === '.' ? start - 1 : start,
  to: end,
  insert: '',
});

const slurOff = (source: Source, first: WrittenNote, last: WrittenNote): Plan | EditProblem => {
  const { text, tune } = source;
  const low = indexOf(tune.score, first);
  const high = indexOf(tune.score, last);
  const before = slursOf(tune.score);
  const isOver = ({ from, to }: Slur): boolean =>
    low === high ? from <= low && low <= to : Math.max(from, low) < Math.min(to, high);
  const going = before.filter(isOver);
  const notes = notesOf(tune.score);
  let expected = tune.score;
  const changes: TextChange[] = [];
  const taken = new Set<Span>();
  for (const { from, to } of going) {
    const [a, b] = [notes[from], notes[to]].map((n) => (n === undefined ? null : noteAt(source, n.address)));
    if (a?.kind !== 'written' || b?.kind !== 'written')
      return problem('This slur is written by a macro (m:).');
    const open = a.signs.opens.find((span) => !taken.has(span));
    const close = b.signs.closes.find((span) => !taken.has(span));
    if (open === undefined || close === undefined)
      return problem('This slur is written as a tie between different notes. Take the - out of the text.');
    taken.add(open).add(close);
    changes.push(cutOpen(text, open), { from: close.start, to: close.end, insert: '' });
    expected = withNote(expected, a, (n) => ({ ...n, slurs: { ...n.slurs, opens: n.slurs.opens - 1 } }));
    expected = withNote(expected, b, (n) => ({ ...n, slurs: { ...n.slurs, closes: n.slurs.closes - 1 } }));
  }
  if (asText(slursOf(expected)) !== asText(before.filter((s) => !isOver(s))))
    return problem('These slurs cross one another. Put their brackets right in the text.');
  return planOf(expected, [changes]);
};

/** A slur put from one note to another, or the slurs between them taken away. */
export const slurPlan = (
  source: Source,
  { from, to, on }: { readonly from: Address; readonly to: Address; readonly on: boolean },
): Plan | EditProblem => {
  const ends = [noteAt(source, from), noteAt(source, to)] as const;
  const [a, b] = ends;
  if (a.kind === 'problem') return a;
  if (b.kind === 'problem') return b;
  const [first, last] = indexOf(source.tune.score, a) <= indexOf(source.tune.score, b) ? [a, b] : [b, a];
  return on ? slurOn(source, first, last) : slurOff(source, first, last);
};
