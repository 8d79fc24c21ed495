import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { expect, test } from 'vitest';
import { elementIdOf, readAbc } from '../notation/index.ts';
import { notesOf } from '../score/index.ts';
import { loadEngraver } from './engraver.ts';
import { engraveSheet } from './engraveSheet.ts';
import { samplePlan } from './testing/sampleTunes.ts';

const DATA = fileURLToPath(new URL('../../../shared/data/corpora/', import.meta.url));
const skipped = !existsSync(DATA);
if (skipped) process.stderr.write('skipped: sheets of corpus tunes, ../shared is not here\n');
/** One tune in so many is engraved, so that the test takes seconds. Ours. */
const STRIDE = 100;

test.skipIf(skipped)(
  'sheets of tunes as they are printed: every note of every one is drawn',
  async () => {
    const engraver = await loadEngraver();
    const files = readdirSync(DATA, { recursive: true, encoding: 'utf8' }).filter((f) => f.endsWith('.abc'));
    const tunes = files
      .flatMap((f) => readAbc(readFileSync(DATA + f, 'latin1')).tunes)
      .filter((t, i) => i % STRIDE === 0 && notesOf(t.score).length > 0);
    expect(tunes.length).toBeGreaterThan(5);
    const missing: string[] = [];
    for (const { score } of tunes) {
      const plan = samplePlan('polka', { versions: [{ id: 'full', name: '', score }] });
      const pages = engraveSheet(plan, engraver);
      const svg = pages.map((p) => p.svg).join('');
      for (const { address } of notesOf(score)) {
        const id = elementIdOf('full', address);
        if (!svg.includes(` id="${id}"`)) missing.push(`${score.number} ${id}`);
      }
    }
    expect(missing).toEqual([]);
  },
  240_000,
);
