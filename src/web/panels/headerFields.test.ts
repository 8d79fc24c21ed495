import { describe, expect, test } from 'vitest';
import { readAbc } from '../../notation/index.ts';
import { fieldsOf } from '../../score/index.ts';
import { fieldIn, withFieldIn } from './headerFields.ts';

const TUNE = 'X:1\nT:The Kettle Lid\nM:4/4\nL:1/8\nK:G\nGABd edBA|\nT:not the header\n';

describe('a header field', () => {
  test.each(['C', 'S', 'O'] as const)('%s is put in, changed and taken out', (code) => {
    const there = withFieldIn(TUNE, code, 'Wren Aldercott');
    expect(fieldIn(there, code)).toBe('Wren Aldercott');
    const score = readAbc(there).tunes[0]?.score;
    expect(score === undefined ? [] : fieldsOf(score, code)).toEqual(['Wren Aldercott']);
    expect(fieldIn(withFieldIn(there, code, 'somebody'), code)).toBe('somebody');
    expect(withFieldIn(there, code, '')).toBe(TUNE);
  });
  test('the title stays a title, and a line break makes no line', () => {
    expect(withFieldIn(TUNE, 'T', 'One\nK:D')).toContain('T:One K:D\nM:');
    expect(fieldIn(withFieldIn(TUNE, 'T', ''), 'T')).toBe('');
  });
});
