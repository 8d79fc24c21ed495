import { expect, test } from 'vitest';
import { progressOn } from './progress.ts';

const drawn = (columns: number | undefined, steps: readonly (readonly [at: number, fraction: number])[]) => {
  let now = 0;
  const written: string[] = [];
  const progress = progressOn({
    stdout: { write: () => true },
    stderr: {
      write: (text) => written.push(text),
      isTTY: true,
      ...(columns === undefined ? {} : { columns }),
    },
    cwd: '.',
    signal: new AbortController().signal,
    now: () => new Date(now),
  });
  for (const [at, fraction] of steps) {
    now = at;
    progress.show(fraction, 'the sheet');
  }
  progress.clear();
  return written.map((text) => text.replace('\r\u001b[K', ''));
};

test.each([
  [10_000, 0.01, '1 % done · the sheet'],
  [10_000, 0.5, '50 % done, about 10 seconds left · the sheet'],
  [10_000, 0.91, '91 % done, about 1 second left · the sheet'],
  [10_000, 0.99, '99 % done · the sheet'],
  [60_000, 0.25, '25 % done, about 3 minutes left · the sheet'],
])('after %i ms, %f done: %s, and the line is taken away', (at, fraction, line) => {
  expect(drawn(80, [[at, fraction]])).toEqual([line, '']);
});

test.each([
  [12, '50 % done, '],
  [0, '50 % done, about 10 seconds left · the sheet'],
  [undefined, '50 % done, about 10 seconds left · the sheet'],
])('(regression) on a terminal of %s columns the line has its width', (columns, line) => {
  expect(drawn(columns, [[10_000, 0.5]])[0]).toBe(line);
});

test('is drawn ten times a second at most, and not at all in a pipe', () => {
  expect(
    drawn(80, [
      [200, 0.01],
      [250, 0.02],
      [300, 0.03],
    ]),
  ).toHaveLength(3);
  const progress = progressOn({
    stdout: { write: () => true },
    stderr: {
      write: () => {
        throw new Error('written to a pipe');
      },
    },
    cwd: '.',
    signal: new AbortController().signal,
    now: () => new Date(0),
  });
  expect(() => {
    progress.show(0.5, 'the sheet');
    progress.clear();
  }).not.toThrow();
});
