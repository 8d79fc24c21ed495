import type { ChordCounts, FamilyCounts } from '../../src/harmony/index.ts';

const line = (row: readonly number[]): string => row.map((n) => Math.round(n)).join(' ');

/** Rows that have anything in them, each behind its number. */
const rows = (table: readonly (readonly number[])[]): string =>
  table.flatMap((row, i) => (row.some((n) => Math.round(n) > 0) ? [`${i}: ${line(row)}`] : [])).join('\n');

const family = (name: string, counts: FamilyCounts): string => `
const ${name}: FamilyTables = {
  first: '${line(counts.first)}',
  steps: \`
${rows(counts.steps)}\`,
  places: \`
${rows(counts.places)}\`,
  tones: [
${counts.tones.map((accent) => `    \`\n${rows(accent)}\`,`).join('\n')}
  ],
};
`;

/** The tables of src/harmony/data.ts for these counts: what is printed when a fresh count differs from them. */
export const countsAsText = (counts: ChordCounts): string =>
  family('MAJOR', counts.major) +
  family('MINOR', counts.minor) +
  `\nconst BARS: ChordCounts['bars'] = [\n${counts.bars.map((bar) => `  [${bar.join(', ')}],`).join('\n')}\n];\n`;
