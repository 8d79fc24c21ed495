import { type WholeNotes, wholeNotes } from '../../core/index.ts';
import { keyOf, metre, pitch } from '../../music/index.ts';
import { assembleParts, type LooseBar } from '../assemble.ts';
import { plainNote } from '../event.ts';
import type { BarLine, Score } from '../score.ts';

const G_MAJOR = keyOf({ step: 'G', alter: 0 }, 'major');
const FOUR_FOUR = metre(4, 4);
const LINES: Readonly<Record<string, BarLine>> = {
  '|': 'single',
  '||': 'double',
  '|]': 'final',
  '/': 'none',
};

const notesFor = (quavers: number) =>
  Array.from({ length: quavers }, () => plainNote(pitch('G4'), wholeNotes(1, 8)));

const looseBar = (quavers: number): LooseBar => ({
  events: notesFor(quavers),
  key: G_MAJOR,
  metre: FOUR_FOUR,
  repeatStart: 0,
  repeatEnd: 0,
  line: 'none',
  ending: null,
  chords: [],
  annotations: [],
  fields: [],
  tempo: null,
  lineEnd: false,
  partLabel: null,
});

/**
 * Loose bars of 4/4 sketched in quavers: "1 | 8 | 8 :|", with `|:`, `::`, `||`, `|]`, `/` (a line end without a bar line),
 * `[1` before a bar, and `P:A` before a part. "8*7" is seven full bars.
 */
export const sketchBars = (text: string): readonly LooseBar[] => {
  const bars: LooseBar[] = [];
  let next: Partial<LooseBar> = {};
  const close = (change: Partial<LooseBar>): void => {
    const last = bars.pop();
    if (last !== undefined) bars.push({ ...last, ...change });
  };
  for (const word of text.split(/\s+/).filter((w) => w !== '')) {
    const count = /^(\d+)(?:\*(\d+))?$/.exec(word);
    if (count !== null) {
      for (let n = 0; n < Number(count[2] ?? '1'); n += 1) {
        if (n > 0) close({ line: 'single' });
        bars.push({ ...looseBar(Number(count[1])), ...next });
        next = {};
      }
    } else if (word.startsWith('P:')) next = { ...next, partLabel: word.slice(2) };
    else if (word.startsWith('[')) next = { ...next, ending: word.slice(1).split(',').map(Number) };
    else if (word === '|:') {
      next = { ...next, repeatStart: 1 };
      if (bars.at(-1)?.line === 'none') close({ line: 'single' });
    } else if (word === '::') {
      close({ line: 'single', repeatEnd: 1 });
      next = { ...next, repeatStart: 1 };
    } else if (word === ':|' || word === '::|') close({ line: 'single', repeatEnd: word.length - 1 });
    else close({ line: LINES[word] ?? 'single' });
  }
  return bars;
};

/** A whole tune sketched so. */
export const sketchScore = (text: string, partOrder: string | null = null): Score => ({
  number: 1,
  fields: [],
  metre: FOUR_FOUR,
  key: G_MAJOR,
  unit: wholeNotes(1, 8) as WholeNotes,
  tempo: null,
  partOrder: partOrder === null ? null : [...partOrder],
  parts: assembleParts(sketchBars(text)).parts,
});
