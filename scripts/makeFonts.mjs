// Remakes assets/fonts and the table of text widths from the packages that ship the fonts.
//   node scripts/makeFonts.mjs
// Text: Tinos (whole TTF files, so that titles in any European script can be set), from @expo-google-fonts/tinos.
// Music: Leipzig, which verovio carries inside itself as WOFF2; it is unpacked to TTF and not changed.
import { spawnSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { copyFileSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import PDFDocument from 'pdfkit';
import { VerovioToolkit } from 'verovio/esm';
import createVerovioModule from 'verovio/wasm';
import wawoff2 from 'wawoff2';

const TINOS = '@expo-google-fonts/tinos@0.4.2';
const FACES = {
  regular: '400Regular/Tinos_400Regular.ttf',
  italic: '400Regular_Italic/Tinos_400Regular_Italic.ttf',
  bold: '700Bold/Tinos_700Bold.ttf',
};
/** Characters whose advance widths the engraver knows: first and last code point of each block. */
const BLOCKS = [
  [0x20, 0x7e],
  [0xa0, 0x17f],
  [0x370, 0x3ff],
  [0x400, 0x45f],
  [0x2010, 0x2027],
];
const ROOT = fileURLToPath(new URL('..', import.meta.url));
const FONTS = join(ROOT, 'assets/fonts');
const WIDTHS = join(ROOT, 'src/engrave/textWidths.ts');

const capital = (word) => word[0].toUpperCase() + word.slice(1);
const sha256 = (file) => createHash('sha256').update(readFileSync(file)).digest('hex');

const fetchTinos = (folder) => {
  const npm = process.platform === 'win32' ? 'npm.cmd' : 'npm';
  const args = [
    'install',
    '--no-save',
    '--ignore-scripts',
    '--no-audit',
    '--no-fund',
    '--prefix',
    folder,
    TINOS,
  ];
  const { status, stderr } = spawnSync(npm, args, { encoding: 'utf8' });
  if (status !== 0) throw new Error(`npm could not fetch ${TINOS}: ${stderr}`);
  const from = join(folder, 'node_modules/@expo-google-fonts/tinos');
  for (const [face, path] of Object.entries(FACES))
    copyFileSync(join(from, path), join(FONTS, `Tinos-${capital(face)}.ttf`));
  copyFileSync(join(from, 'LICENSE_FONT'), join(FONTS, 'OFL-Tinos.txt'));
};

const A_NOTE = `<mei xmlns="http://www.music-encoding.org/ns/mei"><music><body><mdiv><score><scoreDef><staffGrp>
<staffDef n="1" lines="5" clef.shape="G" clef.line="2"/></staffGrp></scoreDef><section><measure><staff n="1"><layer n="1">
<note xml:id="n" dur="1" pname="g" oct="4"/></layer></staff><harm startid="#n">F♯</harm></measure></section></score></mdiv></body></music></mei>`;

const unpackLeipzig = async () => {
  const toolkit = new VerovioToolkit(await createVerovioModule());
  toolkit.setOptions({ font: 'Leipzig', smuflTextFont: 'embedded' });
  toolkit.loadData(A_NOTE);
  const base64 = /font-woff2[^,]*,([A-Za-z0-9+/=]+)/.exec(toolkit.renderToSVG(1))?.[1];
  if (base64 === undefined) throw new Error('verovio embedded no font in its drawing');
  writeFileSync(join(FONTS, 'Leipzig.ttf'), await wawoff2.decompress(Buffer.from(base64, 'base64')));
};

const writeWidths = () => {
  const lines = Object.keys(FACES).map((face) => {
    const pdf = new PDFDocument();
    pdf.font(join(FONTS, `Tinos-${capital(face)}.ttf`)).fontSize(1000);
    const widths = BLOCKS.map(([first, last]) =>
      Array.from({ length: last - first + 1 }, (_, i) =>
        Math.round(pdf.widthOfString(String.fromCodePoint(first + i), { features: [] })),
      ).join(' '),
    );
    return `  ${face}: [\n${widths.map((w) => `    '${w}',\n`).join('')}  ],\n`;
  });
  writeFileSync(
    WIDTHS,
    `// Made by scripts/makeFonts.mjs from the fonts in assets/fonts; not edited by hand.\n\n` +
      `/** First and last code point of each block of characters whose widths are known. */\n` +
      `export const WIDTH_BLOCKS: readonly (readonly [number, number])[] = [\n` +
      `${BLOCKS.map(([a, b]) => `  [0x${a.toString(16)}, 0x${b.toString(16)}],\n`).join('')}];\n\n` +
      `/** Advance widths of the text font in thousandths of its size, block by block, parted by spaces. Source: Tinos 1.340. */\n` +
      `export const ADVANCES = {\n${lines.join('')}} as const;\n`,
  );
};

mkdirSync(FONTS, { recursive: true });
const folder = mkdtempSync(join(tmpdir(), 'tuneladder-fonts-'));
try {
  fetchTinos(folder);
} finally {
  rmSync(folder, { recursive: true, force: true });
}
await unpackLeipzig();
writeWidths();
const files = [...Object.keys(FACES).map((face) => `Tinos-${capital(face)}.ttf`), 'Leipzig.ttf'];
writeFileSync(
  join(FONTS, 'SHA256SUMS'),
  files.map((file) => `${sha256(join(FONTS, file))}  ${file}\n`).join(''),
);
console.log(`made ${files.join(', ')}, SHA256SUMS and ${WIDTHS.slice(ROOT.length)}`);
