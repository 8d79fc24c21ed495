// Draws the layer picture of ARCHITECTURE.md from layers.mjs.
//   node scripts/layerPicture.mjs [FOLDER]           writes it
//   node scripts/layerPicture.mjs --check [FOLDER]   fails when the one that stands there is not current
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { ROOT } from './setup/places.mjs';

const START = '<!-- layers: drawn by scripts/layerPicture.mjs -->';
const END = '<!-- /layers -->';
const KINDS = ['node', 'neutral', 'pure', 'web'];

/** Rooms that can be reached from a room, itself left out. */
const reachedFrom = (layers, room, seen = new Set()) => {
  for (const next of layers[room].imports) {
    if (seen.has(next)) continue;
    seen.add(next);
    reachedFrom(layers, next, seen);
  }
  return seen;
};

/** What a room may import that it does not also reach through another of its imports: all arrows would be a thicket. */
const drawnImports = (layers, room) => {
  const { imports } = layers[room];
  return imports.filter((to) => !imports.some((via) => via !== to && reachedFrom(layers, via).has(to)));
};

const labelOf = (room, { packages = [] }) =>
  packages.length === 0 ? room : `${room}["${room}<br/><small>${packages.join('<br/>')}</small>"]`;

const pictureOf = (layers) => {
  const rooms = Object.entries(layers);
  const groups = KINDS.flatMap((kind) => {
    const inside = rooms.filter(([, about]) => about.kind === kind);
    if (inside.length === 0) return [];
    return [`  subgraph ${kind}`, ...inside.map(([room, about]) => `    ${labelOf(room, about)}`), '  end'];
  });
  const arrows = rooms.flatMap(([room]) => drawnImports(layers, room).map((to) => `  ${room} --> ${to}`));
  return ['```mermaid', 'flowchart TD', ...groups, ...arrows, '```'].join('\n');
};

const args = process.argv.slice(2);
const checks = args[0] === '--check';
const root = args[checks ? 1 : 0] ?? ROOT;
const { layers } = await import(pathToFileURL(join(root, 'layers.mjs')).href);
const file = join(root, 'ARCHITECTURE.md');
const page = readFileSync(file, 'utf8');
const [from, to] = [page.indexOf(START), page.indexOf(END)];
if (from < 0 || to < from) {
  console.error(`ARCHITECTURE.md has no place for the picture between ${START} and ${END}.`);
  process.exitCode = 1;
} else {
  const drawn = `${page.slice(0, from)}${START}\n${pictureOf(layers)}\n${page.slice(to)}`;
  if (!checks) writeFileSync(file, drawn);
  else if (drawn !== page) {
    console.error(
      'The layer picture is not that of layers.mjs: node scripts/layerPicture.mjs draws it anew.',
    );
    process.exitCode = 1;
  }
}
