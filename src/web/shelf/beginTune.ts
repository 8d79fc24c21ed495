/** What a text that holds no tune would need to be one. */
export type Beginning = 'number' | 'header';

/** A header that a teacher puts right in the lesson. */
const HEADER = 'X:1\nT:\nR:reel\nM:4/4\nL:1/8\nK:D\n';
/** Notes and bar lines, and nothing that a letter or a page would have. */
const MUSIC_LINE = /^[\sA-Ga-gzx0-9/,'|:[\]()^_=~."<>{}!+uvTHLMPSO-]+$/;

/** What would make a tune of the text; null where it does not look like one. */
export const beginningFor = (text: string): Beginning | null => {
  if (/^X:/m.test(text)) return null;
  if (/^K:/m.test(text)) return 'number';
  const lines = text.split('\n').filter((line) => line.trim() !== '');
  return lines.some((line) => line.includes('|')) && lines.every((line) => MUSIC_LINE.test(line))
    ? 'header'
    : null;
};

/** The text with what it needs before it. */
export const begun = (text: string, beginning: Beginning): string =>
  `${beginning === 'number' ? 'X:1\n' : HEADER}${text.trimStart()}`;
