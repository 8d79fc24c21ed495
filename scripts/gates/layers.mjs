import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { cruise } from 'dependency-cruiser';
import { filesUnder } from '../setup/contentHash.mjs';

const TEST = '\\.test\\.tsx?$|/testing/';
const FROM_OUTSIDE = [
  'npm',
  'npm-dev',
  'npm-optional',
  'npm-peer',
  'npm-bundled',
  'npm-no-pkg',
  'npm-unknown',
];

/** The layers gate: does every import keep to the table in layers.mjs? */
export const run = async (root) => {
  const { layers } = await import(pathToFileURL(join(root, 'layers.mjs')).href);
  const { output } = await cruise(
    ['src'],
    {
      baseDir: root,
      validate: true,
      ruleSet: { forbidden: rulesOf(layers) },
      tsPreCompilationDeps: true,
      doNotFollow: { path: 'node_modules' },
    },
    {
      extensions: ['.ts', '.tsx', '.js', '.d.ts'],
      exportsFields: ['exports'],
      conditionNames: ['import', 'types', 'default'],
    },
  );
  return { complaints: [...strayFolders(root, layers), ...output.summary.violations.map(sentenceOf)] };
};

const strayFolders = (root, layers) =>
  [...new Set(filesUnder(join(root, 'src')).map((name) => name.split('/')[0]))]
    .filter((name) => layers[name] === undefined)
    .map((name) => `room-not-in-table: src/${name} is no room of layers.mjs`);

const sentenceOf = ({ rule, from, to, cycle }) => {
  const way = cycle === undefined ? to : cycle.map((step) => step.name ?? step).join(' → ');
  return `${rule.name}: ${from} → ${way}`;
};

const anyOf = (names) => `(${names.map((name) => name.replace(/[.*+?^${}()|[\]\\]/g, '\\$&')).join('|')})`;

/** The table as rules of dependency-cruiser. Tests may look into every room that stands above their own in the table. */
const rulesOf = (layers) => {
  const rooms = Object.keys(layers);
  return [
    { name: 'cycle', severity: 'error', from: {}, to: { circular: true } },
    {
      name: 'past-the-index',
      severity: 'error',
      from: { path: '^src/([^/]+)/', pathNot: TEST },
      to: { path: '^src/[^/]+/', pathNot: ['^src/$1/', '^src/[^/]+/index\\.ts$'] },
    },
    {
      name: 'test-code-in-the-program',
      severity: 'error',
      from: { path: '^src/', pathNot: TEST },
      to: { path: TEST },
    },
    {
      name: 'out-of-the-house',
      severity: 'error',
      from: { path: '^src/', pathNot: TEST },
      to: { dependencyTypes: ['local'], pathNot: '^src/' },
    },
    ...rooms.flatMap((room, place) => rulesOfRoom({ room, ...layers[room] }, rooms.slice(0, place))),
  ];
};

const rulesOfRoom = ({ room, kind, imports, packages = [] }, above) => {
  const from = { path: `^src/${room}/`, pathNot: TEST };
  const rules = [
    {
      name: `${room}-imports`,
      severity: 'error',
      from,
      to: { path: '^src/', pathNot: `^src/${anyOf([room, ...imports])}/` },
    },
    {
      name: `${room}-tests-look-down-only`,
      severity: 'error',
      from: { path: [`^src/${room}/.*\\.test\\.ts$`, `^src/${room}/.*testing/`] },
      to: { path: '^src/', pathNot: `^src/${anyOf([room, ...above])}/` },
    },
    {
      name: `${room}-packages`,
      severity: 'error',
      from,
      to: {
        dependencyTypes: FROM_OUTSIDE,
        ...(packages.length > 0 && { pathNot: `(^|node_modules/)${anyOf(packages)}(/|$)` }),
      },
    },
    {
      name: `${room}-unknown-import`,
      severity: 'error',
      from: { path: `^src/${room}/` },
      to: {
        couldNotResolve: true,
        ...(packages.length > 0 && { pathNot: `^${anyOf(packages)}(/|$)` }),
      },
    },
  ];
  const noNode = {
    name: `${room}-is-${kind}-no-node`,
    severity: 'error',
    from,
    to: { dependencyTypes: ['core'] },
  };
  return kind === 'node' ? rules : [...rules, noNode];
};
