import {
  asWholeNotes,
  compare,
  divide,
  equals,
  multiply,
  type Rational,
  rational,
  subtract,
  ZERO,
} from '../../../core/index.ts';
import { barLengthOf, formatMetre } from '../../../music/index.ts';
import { type Address, type Bar, isFull } from '../../../score/index.ts';
import { lengthAt } from '../numbers.ts';
import { noteSignAt } from '../scanner.ts';
import { writeLength } from '../writeNote.ts';
import { type EditProblem, problem, type TextChange } from './noteEdit.ts';
import { type Plan, planOf, type Source, withEvent } from './plan.ts';
import { eventAt, type WrittenEvent } from './writtenEvent.ts';

/** Where the length of an event is written: behind the note's letter, the rest's, or a chord's bracket. */
const lengthPlace = (text: string, { tokens, span }: WrittenEvent): number | null => {
  const last = tokens.at(-1);
  switch (last?.kind) {
    case 'note':
      return noteSignAt(text, last.start)?.end ?? null;
    case 'rest':
      return span.start + 1;
    case 'chordClose':
      return last.start + 1;
    default:
      return null;
  }
};

const scaled = (text: string, event: WrittenEvent, factor: Rational): TextChange | null => {
  const from = lengthPlace(text, event);
  if (from === null) return null;
  const { num, den, end } = lengthAt(text, from);
  if (num < 1 || den < 1 || !Number.isSafeInteger(num * den)) return null;
  return { from, to: end, insert: writeLength(multiply(rational(num, den), factor), rational(1)) };
};

const FACTORS = { double: rational(2), half: rational(1, 2) } as const;

const notWhole = (bar: Bar): EditProblem => {
  const full = barLengthOf(bar.metre);
  const wants = full === null ? '' : `, which is in ${formatMetre(bar.metre)},`;
  return problem(
    `The bar${wants} would not be whole. Say which neighbour in the bar gives or takes the time.`,
  );
};

/** A note or rest made twice or half as long; `partner` gives or takes the difference, so that the bar stays whole. */
export const lengthPlan = (
  source: Source,
  at: Address,
  { times, partner }: { readonly times: 'double' | 'half'; readonly partner?: Address | undefined },
): Plan | EditProblem => {
  const found = eventAt(source, at);
  if (found.kind === 'problem') return found;
  const { length } = found.event;
  const factor = FACTORS[times];
  const longer = subtract(multiply(length, factor), length);
  const changes = [{ event: found, factor }];
  if (partner !== undefined) {
    const other = eventAt(source, partner);
    if (other.kind === 'problem') return other;
    if (other.part !== found.part || other.bar !== found.bar || other.index === found.index)
      return problem('The note that gives or takes the time must be another one of the same bar.');
    const left = subtract(other.event.length, longer);
    if (compare(left, ZERO) <= 0) return problem('The other note is too short to give so much time.');
    changes.push({ event: other, factor: divide(left, other.event.length) });
  }
  let expected = source.tune.score;
  const written: TextChange[] = [];
  for (const { event, factor: by } of changes) {
    const change = scaled(source.text, event, by);
    if (change === null)
      return problem('This length is written for several bars at once. Change it in the text.');
    written.push(change);
    expected = withEvent(expected, event, (e) => ({ ...e, length: asWholeNotes(multiply(e.length, by)) }));
  }
  const bar = expected.parts.find((p) => p.label === found.part)?.bars[found.bar];
  const keeps = partner !== undefined || equals(longer, ZERO);
  if (bar === undefined || !(keeps || (bar.role === 'full' && isFull(bar)))) return notWhole(found.barRead);
  return planOf(expected, [written], { movesOnsets: true });
};
