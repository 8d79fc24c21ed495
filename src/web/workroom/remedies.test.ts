import { describe, expect, test } from 'vitest';
import { readAbc } from '../../notation/index.ts';
import { remedyOf } from './remedies.ts';

const tune = (body: string, header = 'X:1\nT:The Kettle Lid\nM:4/4\nL:1/8\nK:G\n'): string =>
  `${header}${body}\n`;

describe('a remedy', () => {
  test.each([
    ['a tie that leads nowhere', tune('GABd edBA-|]'), 'tie-leads-nowhere'],
    ['a slur that was not opened', tune('GABd) edBA|'), 'slur-unopened'],
    ['a bracket that was not opened', tune('GABd] edBA|'), 'chord-unopened'],
    ['a title that is missing', tune('GABd edBA|', 'X:1\nM:4/4\nL:1/8\nK:G\n'), 'title-missing'],
    [
      'a number that is missing',
      tune('GABd edBA|', 'X:\nT:The Kettle Lid\nM:4/4\nL:1/8\nK:G\n'),
      'number-missing',
    ],
    ['an X: that is missing', tune('GABd edBA|', 'T:The Kettle Lid\nM:4/4\nL:1/8\nK:G\n'), 'no-tune'],
  ])('takes %s away', (_, text, code) => {
    const problem = readAbc(text).diagnostics.find((d) => d.code === code);
    expect(problem).toBeDefined();
    const remedy = problem === undefined ? null : remedyOf(text, problem);
    expect(remedy).not.toBeNull();
    if (remedy === null) return;
    const mended = text.slice(0, remedy.from) + remedy.insert + text.slice(remedy.to);
    expect(readAbc(mended).diagnostics.map((d) => d.code)).not.toContain(code);
  });
});
