const HEAD = ['what', 'ours', 'target', 'yardstick', 'holds'];
/** Columns of figures stand to the right. */
const RIGHT = [false, true, true, true, false];

const cellsOf = ({ what, ours, target, yardstick, holds }) =>
  [what, ours, target, yardstick ?? '', holds === null ? '' : holds ? 'yes' : 'NO'].map((cell) =>
    String(cell).replaceAll('|', '\\|'),
  );

/** Characters as they stand in a fixed-width font, near enough: combining signs count nothing. */
const widthOf = (text) => [...text.normalize('NFC')].length;

const padded = (text, width, right) => {
  const space = ' '.repeat(Math.max(0, width - widthOf(text)));
  return right ? space + text : text + space;
};

/** A measured table as Markdown, columns aligned so that it reads in a terminal too. */
export const markdownOf = ({ title, command, rows, skipped }) => {
  const head = `### ${title}\n\n\`${command}\`\n\n`;
  if (skipped !== undefined) return `${head}skipped: ${skipped}\n`;
  const lines = [HEAD, ...rows.map(cellsOf)];
  const widths = HEAD.map((_, column) => Math.max(3, ...lines.map((cells) => widthOf(cells[column]))));
  const row = (cells) => `| ${cells.map((cell, i) => padded(cell, widths[i], RIGHT[i])).join(' | ')} |`;
  const rule = `| ${widths.map((w, i) => (RIGHT[i] ? `${'-'.repeat(w - 1)}:` : '-'.repeat(w))).join(' | ')} |`;
  const [first, ...rest] = lines;
  return `${head}${[row(first), rule, ...rest.map(row)].join('\n')}\n`;
};
