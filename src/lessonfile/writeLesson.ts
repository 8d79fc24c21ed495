import type { LessonSettings } from '../lesson/index.ts';

/** What of a lesson the program itself writes into lesson.json. */
export type Written = Pick<LessonSettings, 'keptBars' | 'acceptedOrnaments' | 'barTable'>;

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

/** Drops what is undefined, as JSON does. */
const asJson = (value: unknown): unknown => JSON.parse(JSON.stringify(value));

/**
 * lesson.json with what the program writes put in; everything else stays as it is, in its order.
 * @param text - the file as it is: well-formed, see `readLessonFile`
 * @returns the new text, made to be read by people too
 * @throws SyntaxError when the text is no JSON (a caller's bug)
 */
export const withWritten = (text: string, { keptBars, acceptedOrnaments, barTable }: Written): string => {
  const {
    keptBars: _k,
    acceptedOrnaments: _a,
    barTable: _b,
    ...others
  } = JSON.parse(text) as Record<string, unknown>;
  const none = keptBars.length + acceptedOrnaments.length === 0;
  const attached = {
    ...(keptBars.length === 0 ? {} : { keptBars }),
    ...(acceptedOrnaments.length === 0 ? {} : { acceptedOrnaments }),
    ...(none || barTable === null ? {} : { barTable }),
  };
  return `${printed(asJson({ ...others, ...attached }), '', 0)}\n`;
};
