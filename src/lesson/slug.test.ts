import { expect, test } from 'vitest';
import { slugOf } from './slug.ts';

test.each([
  ["The Ferryman's Wet Coat", 'the-ferrymans-wet-coat'],
  ['Cà Là – Ørsted & Søn', 'ca-la-orsted-son'],
  ['<script>alert(1)</script>', 'script-alert-1-script'],
  ['../../etc/passwd', 'etc-passwd'],
  ['東', 'tune'],
  ['', 'tune'],
])('%j becomes %s', (title, slug) => expect(slugOf(title)).toBe(slug));

test('a long title is cut without a hyphen at its end', () => {
  const slug = slugOf(`${'long '.repeat(40)}`);
  expect(slug.length).toBeLessThanOrEqual(48);
  expect(slug).toMatch(/^[a-z0-9].*[a-z0-9]$/);
});
