// Writes the layer picture of ARCHITECTURE.md from layers.mjs: node scripts/layerPicture.mjs
import { readFileSync, writeFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { layers } from '../layers.mjs';

const PAGE = fileURLToPath(new URL('../ARCHITECTURE.md', import.meta.url));
const BEGIN = '<!-- layers:begin, written by scripts/layerPicture.mjs -->';
const END = '<!-- layers:end -->';

/** What a room may reach through another room it may import is not drawn: the picture keeps the last steps only. */
const direct = (room) => {
  const imports = layers[room].imports;
  const through = new Set(imports.flatMap((name) => [...reach(name)]));
  return imports.filter((name) => !through.has(name));
};

const reach = (room) => new Set(layers[room].imports.flatMap((name) => [name, ...reach(name)]));

/** The picture as a Mermaid graph. */
export const layerPicture = () => {
  const arrows = Object.keys(layers).flatMap((room) => direct(room).map((name) => `  ${room} --> ${name}`));
  const kinds = ['pure', 'neutral', 'node', 'web'].flatMap((kind) => {
    const rooms = Object.keys(layers).filter((room) => layers[room].kind === kind);
    return rooms.length === 0 ? [] : [`  class ${rooms.join(',')} ${kind}`];
  });
  const looks = [
    '  classDef pure fill:#fffdf8,stroke:#6a5f52',
    '  classDef neutral fill:#eef3ea,stroke:#55704a',
    '  classDef node fill:#eceff4,stroke:#4a5a70',
  ];
  return ['```mermaid', 'graph BT', ...arrows, ...looks, ...kinds, '```'].join('\n');
};

/** The page with the picture of today's table in it. */
export const pageWithPicture = (page) => {
  const from = page.indexOf(BEGIN) + BEGIN.length;
  return `${page.slice(0, from)}\n${layerPicture()}\n${page.slice(page.indexOf(END))}`;
};

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  writeFileSync(PAGE, pageWithPicture(readFileSync(PAGE, 'utf8')));
}
