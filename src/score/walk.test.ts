import { expect, test } from 'vitest';
import { formatRational, parseWholeNotes, wholeNotes } from '../core/index.ts';
import { pitch } from '../music/index.ts';
import { addressKey } from './address.ts';
import { plainNote } from './event.ts';
import type { Bar, Score } from './score.ts';
import { sketchScore } from './testing/sketch.ts';
import {
  barsOf,
  fingerprintOf,
  isFull,
  metricalOffsetOf,
  notesOf,
  placedEvents,
  runningNoteOf,
} from './walk.ts';

const withLengths = (...lengths: readonly string[]): Score => {
  const score = sketchScore('8 |]');
  const part = score.parts[0];
  const bar = part?.bars[0];
  if (part === undefined || bar === undefined) throw new Error('no bar');
  const events = lengths.map((length) => plainNote(pitch('A4'), parseWholeNotes(length)));
  return { ...score, parts: [{ ...part, bars: [{ ...bar, events }] }] };
};

test.each([
  { lengths: ['1/8', '1/8', '1/8', '1/8', '1/2'], running: '1/8' },
  { lengths: ['1/16', '1/16', '1/16', '1/16', '1/8', '1/8', '1/2'], running: '1/16' },
  { lengths: ['1/4', '1/4', '1/2'], running: '1/8' },
  { lengths: ['3/16', '1/16', '3/16', '1/16', '1/8', '1/8', '1/8', '1/8'], running: '1/8' },
])('the running note of $lengths is $running', ({ lengths, running }) =>
  expect(formatRational(runningNoteOf(withLengths(...lengths)))).toBe(running),
);

test('tuplet notes do not count as running notes', () => {
  const score = withLengths('1/12', '1/12', '1/12', '1/16', '1/16', '1/8');
  const tuplet = { actual: 3, normal: 2, index: 0, count: 3 };
  const part = score.parts[0];
  const bar = part?.bars[0];
  if (part === undefined || bar === undefined) throw new Error('no bar');
  const events = bar.events.map((e, i) => (i < 3 ? { ...e, tuplet: { ...tuplet, index: i } } : e));
  const dressed = { ...score, parts: [{ ...part, bars: [{ ...bar, events }] }] };
  expect(formatRational(runningNoteOf(dressed))).toBe('1/16');
});

test('a pick-up and the rest of a bar are counted from the bar’s end', () => {
  const bars = barsOf(sketchScore('2 | 8 | 4 / 4 | 6 |]')).map(({ bar }) => bar);
  expect(bars.map((bar) => formatRational(metricalOffsetOf(bar)))).toEqual(['3/4', '0', '0', '1/2', '0']);
  expect(bars.map(isFull)).toEqual([false, true, false, false, false]);
});

test('events are placed one behind the other', () => {
  const [bar] = barsOf(withLengths('1/4', '1/8', '1/2'));
  expect(bar && placedEvents(bar.bar).map((e) => formatRational(e.onset))).toEqual(['0', '1/4', '3/8']);
});

test('addresses name part, bar, onset and what lies inside a note', () => {
  const at = { part: 'A', bar: 3, onset: wholeNotes(1, 4) };
  expect(addressKey(at)).toBe('A/3/1:4');
  expect(addressKey({ ...at, grace: 0 })).toBe('A/3/1:4.g0');
  expect(addressKey({ ...at, tone: 1 })).toBe('A/3/1:4.t1');
  expect(notesOf(withLengths('1/4', '1/4')).map((n) => addressKey(n.address))).toEqual(['A/0/0', 'A/0/1:4']);
});

test('a fingerprint tells what a bar sounds like and no more', () => {
  const [a] = barsOf(withLengths('1/4', '1/8'));
  const [b] = barsOf(withLengths('1/4', '1/8'));
  const [c] = barsOf(withLengths('1/8', '1/4'));
  if (a === undefined || b === undefined || c === undefined) throw new Error('no bar');
  const broken: Bar = { ...a.bar, lineEnd: true };
  expect(fingerprintOf(broken)).toBe(fingerprintOf(b.bar));
  expect(fingerprintOf(a.bar)).not.toBe(fingerprintOf(c.bar));
});
