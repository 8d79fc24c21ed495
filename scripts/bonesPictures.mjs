// Remakes docs/bones/*.png, plain above bones, from docs/bones/tunes.abc: `node scripts/bonesPictures.mjs`.
// Needs `npm run build` before. Look at the pictures before they are kept; docs/bones.md speaks of each.
import { readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { engraveSnippet, loadEngraver } from '../dist/engrave/index.js';
import { readAbc } from '../dist/notation/index.js';
import { pngOf } from '../dist/print/index.js';
import { barsOf, titleOf } from '../dist/score/index.js';
import { bonesOf, plainOf } from '../dist/versions/index.js';

const FOLDER = new URL('../docs/bones/', import.meta.url);
/** Pixels a point: sharp on a screen of high density. */
const SHARPNESS = 2;
/** Dances whose usual bones are nearly the tune: a sparser step stands under them. */
const ALSO_SPARSER = new Set(['polka']);

const staff = (id, name, score) => ({ id, name, score });

const stavesOf = (score) => {
  const plain = plainOf(score);
  const rhythm = score.fields.find((f) => f.code === 'R')?.value;
  const sparser = ALSO_SPARSER.has(rhythm)
    ? [staff('sparser', 'sparser', bonesOf(plain, { density: 'sparser' }))]
    : [];
  return [staff('plain', 'plain', plain), staff('bones', 'bones', bonesOf(plain)), ...sparser];
};

const slugOf = (score) => {
  const words = titleOf(score).toLowerCase().replaceAll(' ', '-');
  return `${String(score.number).padStart(2, '0')}-${words}`;
};

for (const file of readdirSync(FOLDER)) if (file.endsWith('.png')) rmSync(new URL(file, FOLDER));
const engraver = await loadEngraver();
for (const { score } of readAbc(readFileSync(new URL('tunes.abc', FOLDER), 'utf8')).tunes) {
  const page = engraveSnippet(stavesOf(score), { from: 0, to: barsOf(score).length }, engraver);
  const png = await pngOf(page, Math.round(page.width * SHARPNESS));
  writeFileSync(new URL(`${slugOf(score)}.png`, FOLDER), png);
  console.log(`docs/bones/${slugOf(score)}.png`);
}
