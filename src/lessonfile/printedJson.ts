/** Objects and lists that are no longer than this stand on one line, in characters. Ours. */
const LINE = 100;

const onOneLine = (value: unknown): string => {
  if (Array.isArray(value)) return value.length === 0 ? '[]' : `[${value.map(onOneLine).join(', ')}]`;
  if (typeof value === 'object' && value !== null) {
    const fields = Object.entries(value).map(([key, own]) => `${JSON.stringify(key)}: ${onOneLine(own)}`);
    return fields.length === 0 ? '{}' : `{ ${fields.join(', ')} }`;
  }
  return JSON.stringify(value);
};

const printed = (value: unknown, indent: string, before: number): string => {
  const line = onOneLine(value);
  const isLeaf = typeof value !== 'object' || value === null;
  if (isLeaf || (indent !== '' && indent.length + before + line.length <= LINE)) return line;
  const inner = `${indent}  `;
  const list = Array.isArray(value);
  const items = list
    ? value.map((own) => inner + printed(own, inner, 0))
    : Object.entries(value).map(([key, own]) => {
        const name = `${JSON.stringify(key)}: `;
        return inner + name + printed(own, inner, name.length);
      });
  return `${list ? '[' : '{'}\n${items.join(',\n')}\n${indent}${list ? ']' : '}'}`;
};

/**
 * JSON to be read by people: what is short stands on one line.
 * @returns the text with a newline at its end; what is undefined is left out, as JSON does
 */
export const printedJson = (value: unknown): string =>
  `${printed(JSON.parse(JSON.stringify(value)), '', 0)}\n`;
