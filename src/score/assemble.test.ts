import { describe, expect, test } from 'vitest';
import { assembleParts } from './assemble.ts';
import { sketchBars } from './testing/sketch.ts';

/** "A: p 1 2 r": each part's label and its bars' numbers, p for a pick-up, r for the rest of a bar. */
const shown = (text: string): string =>
  assembleParts(sketchBars(text))
    .parts.map((part) => {
      const marks = part.bars.map((b) => b.number ?? (b.role === 'pickup' ? 'p' : 'r'));
      return `${part.label}${part.named ? '*' : ''}: ${marks.join(' ')}`;
    })
    .join(' · ');

describe('parts and printed numbers', () => {
  test.each([
    ['a tune without pick-ups', '8*4 :| 8*4 :|', 'A: 1 2 3 4 · B: 5 6 7 8'],
    ['repeats with pick-ups', '1 | 8*3 | 7 :| |: 1 | 8*3 | 7 :|', 'A: p 1 2 3 4 · B: p 5 6 7 8'],
    ['a pick-up behind a double bar', '2 | 8*3 | 6 || 2 | 8*3 | 6 |]', 'A: p 1 2 3 4 · B: p 5 6 7 8'],
    // "seven bars and two endings: B starts at 10": common practice of printed bar numbers.
    [
      'seven bars and two endings: B starts at 10',
      '8*7 | [1 8 :| [2 8 || 8*8 |]',
      'A: 1 2 3 4 5 6 7 8 9 · B: 10 11 12 13 14 15 16 17',
    ],
    ['endings that begin inside a bar', '8*3 | 4 | [1 4 :| [2 4 || 8*2 |]', 'A: 1 2 3 4 r r · B: 5 6'],
    ['a bar that goes on in the next line', '8 | 4 / 4 | 8 |]', 'A: 1 2 r 3'],
    ['a broken bar that does not add up is still one bar', '8 | 4 / 3 | 8 |]', 'A: 1 2 r 3'],
    ['labels as written', 'P:A 8*2 :| P:B 8*2 :|', 'A*: 1 2 · B*: 3 4'],
    ['a label twice', 'P:A 8*2 | P:B 8*2 | P:A 8 |', 'A*: 1 2 · B*: 3 4 · A2*: 5'],
    ['music before the first label', '8*2 | P:A 8*2 :|', 'B: 1 2 · A*: 3 4'],
    ['a lone pick-up before the first label leads into its part', '1 | P:A 8*2 | 7 :|', 'A*: p 1 2 3'],
    ['double bars inside a named part', 'P:A 8*2 || 8*2 || P:B 8*2 |]', 'A*: 1 2 3 4 · B*: 5 6'],
    ['a bar split by a double bar inside a named part', 'P:A 8 | 6 || 2 | 8 |]', 'A*: 1 2 r 3'],
    ['a pick-up behind a full last bar inside a named part', 'P:A 8*2 || 2 | 8 | 6 |]', 'A*: 1 2 p 3 4'],
    ['sixteen bars without marks', '8*16 |]', 'A: 1 2 3 4 5 6 7 8 · B: 9 10 11 12 13 14 15 16'],
    ['sixteen bars beside a marked part are one part', '8*2 || 8*16 |]', `A: 1 2 · B: ${range(3, 18)}`],
    ['an odd number of bars is never forced', '1 | 8*9 | 7 |]', `A: p ${range(1, 10)}`],
    ['a short introduction', '2 | 8*2 |: 8*2 :|', 'A: p 1 2 · B: 3 4'],
  ])('%s', (_, sketch, expected) => expect(shown(sketch)).toBe(expected));

  test('cutting at phrases is said', () => {
    expect(assembleParts(sketchBars('8*16 |]')).diagnostics.map((d) => d.code)).toEqual([
      'parts-from-phrases',
    ]);
    expect(assembleParts(sketchBars('8*8 || 8*8 |]')).diagnostics).toEqual([]);
  });

  test('no bars, no parts', () => expect(assembleParts([]).parts).toEqual([]));

  test('thirty parts have thirty labels', () => {
    const labels = assembleParts(sketchBars(Array.from({ length: 30 }, () => '8 ||').join(' '))).parts.map(
      (p) => p.label,
    );
    expect(new Set(labels).size).toBe(30);
    expect(labels[26]).toBe('A2');
  });
});

function range(from: number, to: number): string {
  return Array.from({ length: to - from + 1 }, (_, i) => from + i).join(' ');
}
