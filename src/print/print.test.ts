import { spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { chordGridPages, engraveSheet, loadEngraver, type Page } from '../engrave/index.ts';
import { type SAMPLES, samplePlan } from '../engrave/testing/sampleTunes.ts';
import { printedChord } from '../music/index.ts';
import { barsOf } from '../score/index.ts';
import { FONT_FILES, pdfOf, pngOf } from './index.ts';

const META = { title: 'Dressed: Full version', author: 'Wren Aldercott', date: '2026-11-25' };
const hasPdftotext = spawnSync('pdftotext', ['-v']).error === undefined;
if (!hasPdftotext) process.stderr.write('skipped: text of the PDF files, pdftotext is not here\n');

const folder = mkdtempSync(join(tmpdir(), 'tuneladder-print-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const textOf = (pdf: Uint8Array): string => {
  const file = join(folder, 'page.pdf');
  writeFileSync(file, pdf);
  return spawnSync('pdftotext', ['-layout', file, '-'], { encoding: 'utf8' }).stdout;
};
const infoOf = (pdf: Uint8Array): string => {
  const file = join(folder, 'info.pdf');
  writeFileSync(file, pdf);
  return spawnSync('pdfinfo', [file], { encoding: 'utf8' }).stdout;
};

const pages = new Map<string, readonly Page[]>();
beforeAll(async () => {
  const engraver = await loadEngraver();
  pages.set('dressedReel', engraveSheet(samplePlan('dressedReel'), engraver));
  pages.set('dottedHornpipe', engraveSheet(samplePlan('dottedHornpipe'), engraver));
  pages.set('longTitleSlipJig', engraveSheet(samplePlan('longTitleSlipJig'), engraver));
});
const pagesOf = (name: keyof typeof SAMPLES): readonly Page[] => pages.get(name) ?? [];

describe.skipIf(!hasPdftotext)('what can be read in the PDF file', () => {
  test.each(['dressedReel', 'dottedHornpipe'] as const)(
    '%s: title, every bar number, every chord name',
    async (name) => {
      const plan = samplePlan(name);
      const text = textOf(await pdfOf(pagesOf(name), META));
      expect(text).toContain(plan.title);
      expect(text).toContain('Wren Aldercott · 25 November 2026');
      const words = new Set(text.split(/\s+/));
      for (const { bar } of barsOf(plan.versions[0].score)) {
        if (bar.number !== null) expect(words, `bar ${bar.number}`).toContain(String(bar.number));
        for (const { chord } of bar.chords) expect(words).toContain(printedChord(chord));
      }
    },
  );
  test('a title with markup is text, and broken over lines', async () => {
    const text = textOf(await pdfOf(pagesOf('longTitleSlipJig'), META)).replace(/\s+/g, ' ');
    expect(text).toContain('Field & Back <b>by the Long Road</b>, with a Very Long Title');
  });
  test('the file says what it is', async () => {
    const info = infoOf(await pdfOf(pagesOf('dressedReel'), META));
    expect(info).toMatch(/Title:\s+Dressed: Full version/);
    expect(info).toMatch(/Author:\s+Wren Aldercott/);
    expect(info).toMatch(/Pages:\s+1/);
    expect(info).toMatch(/595.28 x 841.89 pts \(A4\)/);
  });
  test('the chord grid names its chords', async () => {
    const text = textOf(await pdfOf(chordGridPages(samplePlan('dressedReel')), META));
    for (const name of ['F♯m7', 'B♭/D', 'Bm']) expect(text).toContain(name);
  });
});

describe('the PDF file', () => {
  test('is the same, byte for byte, from the same pages', async () => {
    const [a, b] = [await pdfOf(pagesOf('dressedReel'), META), await pdfOf(pagesOf('dressedReel'), META)];
    expect(Buffer.compare(Buffer.from(a), Buffer.from(b))).toBe(0);
    const other = await pdfOf(pagesOf('dressedReel'), { ...META, date: '2026-11-26' });
    expect(Buffer.compare(Buffer.from(a), Buffer.from(other))).not.toBe(0);
  });
  test('embeds the text font and the font of sharps and flats, and nothing that a reader must have', async () => {
    const pdf = Buffer.from(await pdfOf(pagesOf('dressedReel'), META)).toString('latin1');
    const fonts = [...pdf.matchAll(/\/FontName \/(\S+)/g)].map((m) => m[1]);
    expect(fonts.some((f) => f?.endsWith('+Tinos-Bold'))).toBe(true);
    expect(fonts.some((f) => f?.endsWith('+Leipzig'))).toBe(true);
    expect(pdf).not.toMatch(/\/BaseFont \/(Helvetica|Times)/);
  });
  test('refuses no pages, and a day that is none', async () => {
    await expect(pdfOf([], META)).rejects.toThrow(RangeError);
    await expect(pdfOf(pagesOf('dressedReel'), { ...META, date: 'tomorrow' })).rejects.toThrow(RangeError);
  });
});

describe('the picture', () => {
  test('is a PNG of the width that was asked for, with something drawn', async () => {
    const [page] = pagesOf('dressedReel');
    if (page === undefined) throw new Error('no page');
    const png = Buffer.from(await pngOf(page, 600));
    expect(png.subarray(1, 4).toString('latin1')).toBe('PNG');
    expect(png.readUInt32BE(16)).toBe(600);
    expect(png.length).toBeGreaterThan(10_000);
    await expect(pngOf(page, 0)).rejects.toThrow(RangeError);
  });
  test('draws sharps: they are not the same as nothing', async () => {
    const page = (text: string): Page => ({
      width: 60,
      height: 20,
      svg: `<svg xmlns="http://www.w3.org/2000/svg" width="60" height="20" viewBox="0 0 60 20"><text x="2" y="15" font-family="Leipzig" font-size="14">${text}</text></svg>`,
    });
    const [sharp, flat, nothing] = await Promise.all(['♯', '♭', ''].map((t) => pngOf(page(t), 120)));
    expect(sharp).not.toEqual(nothing);
    expect(flat).not.toEqual(sharp);
  });
});

test('the fonts are the ones whose sums are written beside them', async () => {
  const { createHash } = await import('node:crypto');
  const sums = readFileSync(join(FONT_FILES.sign, '../SHA256SUMS'), 'utf8');
  for (const file of Object.values(FONT_FILES))
    expect(sums).toContain(createHash('sha256').update(readFileSync(file)).digest('hex'));
});
