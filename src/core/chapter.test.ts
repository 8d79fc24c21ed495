import { expect, test } from 'vitest';
import { chapterLines, vttOf } from './index.ts';

const CHAPTERS = [
  { start: 0, end: 61.2345, title: 'Hello' },
  { start: 61.2345, end: 3723.5, title: 'A <b> & --> C' },
];

// Source: WebVTT, W3C, sections "WebVTT file body", "WebVTT timestamp", "WebVTT cue text".
test('chapters as WebVTT: numbered cues, hours to milliseconds, nothing that reads as markup', () =>
  expect(vttOf(CHAPTERS)).toBe(`WEBVTT

1
00:00:00.000 --> 00:01:01.235
Hello

2
00:01:01.235 --> 01:02:03.500
A &lt;b&gt; &amp; --&gt; C
`));

test('chapters as lines under a video', () =>
  expect(chapterLines(CHAPTERS)).toEqual(['0:00 Hello', '1:01 A <b> & --> C']));
