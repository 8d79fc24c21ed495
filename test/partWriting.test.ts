import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { checkedNotes } from '../src/lesson/notes/testing/claimCheck.ts';
import { readAbc } from '../src/notation/index.ts';
import { notesOf } from '../src/score/index.ts';
import { ROOT } from './house.ts';

const DATA = join(ROOT, '../shared/data/corpora');
const skipped = !existsSync(DATA);
if (skipped)
  process.stderr.write('part-writing: the notes on 300 printed tunes are skipped, ../shared is not here\n');

const TUNES = 300;

test.skipIf(skipped)(
  'no sentence of the notes on three hundred printed tunes states what is not in the score',
  () => {
    const files = readdirSync(DATA, { recursive: true, encoding: 'utf8' }).filter((f) => f.endsWith('.abc'));
    const tunes = files.flatMap((f) => readAbc(readFileSync(join(DATA, f), 'latin1')).tunes);
    const stride = Math.max(1, Math.floor(tunes.length / TUNES));
    const chosen = tunes.filter((t, i) => i % stride === 0 && notesOf(t.score).length > 0).slice(0, TUNES);
    const checked = chosen.map((t) => checkedNotes(t.score));
    expect(checked.flatMap((c) => c.wrong)).toEqual([]);
    expect(chosen.length).toBeGreaterThan(TUNES * 0.8);
    expect(checked.reduce((sum, c) => sum + c.facts, 0)).toBeGreaterThan(chosen.length * 80);
  },
  900_000,
);
