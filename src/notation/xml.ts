/** Values of attributes; undefined ones are left out. */
export type XmlAttributes = Readonly<Record<string, string | number | undefined>>;

/** An XML element as a value; null children are left out. */
export interface XmlElement {
  readonly name: string;
  readonly attributes: XmlAttributes;
  readonly children: readonly (XmlElement | string | null)[];
}

/** Makes an element. */
export const xml = (
  name: string,
  attributes: XmlAttributes = {},
  children: readonly (XmlElement | string | null)[] = [],
): XmlElement => ({ name, attributes, children });

/** An element that holds text alone. */
export const xmlText = (name: string, text: string | number, attributes: XmlAttributes = {}): XmlElement =>
  xml(name, attributes, [String(text)]);

/**
 * Characters that no XML 1.0 document may hold, not even as references: most controls, lone surrogates, U+FFFE, U+FFFF.
 * @see Source: XML 1.0, fifth edition, production 2 (Char)
 */
const isLegal = (character: string): boolean => {
  const point = character.codePointAt(0) ?? 0;
  if (point < 0x20) return point === 0x9 || point === 0xa || point === 0xd;
  return !(point >= 0xd800 && point <= 0xdfff) && point !== 0xfffe && point !== 0xffff;
};

const ESCAPES: Readonly<Record<string, string>> = {
  '&': '&amp;',
  '<': '&lt;',
  '>': '&gt;',
  '"': '&quot;',
  '\t': '&#9;',
  '\n': '&#10;',
  '\r': '&#13;',
};

const legal = (text: string): string => [...text].filter(isLegal).join('');
const escapeText = (text: string): string => legal(text).replace(/[&<>\r]/g, (c) => ESCAPES[c] ?? c);
const escapeAttribute = (text: string): string =>
  legal(text).replace(/[&<>"\t\n\r]/g, (c) => ESCAPES[c] ?? c);

const linesOf = (element: XmlElement, indent: string, lines: string[]): void => {
  const attributes = Object.entries(element.attributes)
    .filter(([, value]) => value !== undefined)
    .map(([name, value]) => ` ${name}="${escapeAttribute(String(value))}"`)
    .join('');
  const open = `${indent}<${element.name}${attributes}`;
  const children = element.children.filter((c) => c !== null);
  if (children.length === 0) lines.push(`${open}/>`);
  else if (children.every((c) => typeof c === 'string')) {
    lines.push(`${open}>${children.map(escapeText).join('')}</${element.name}>`);
  } else {
    lines.push(`${open}>`);
    for (const child of children) {
      if (typeof child === 'string') lines.push(escapeText(child));
      else linesOf(child, `${indent}  `, lines);
    }
    lines.push(`${indent}</${element.name}>`);
  }
};

/**
 * The document as text: declaration, document type, elements indented by two blanks, newline at the end.
 *
 * Markup in texts and attributes stays text; characters that XML forbids are dropped.
 * @param doctype - what stands between `<!DOCTYPE ` and `>`; none when absent
 */
export const formatXml = (root: XmlElement, doctype?: string): string => {
  const lines = ['<?xml version="1.0" encoding="UTF-8"?>'];
  if (doctype !== undefined) lines.push(`<!DOCTYPE ${doctype}>`);
  linesOf(root, '', lines);
  return `${lines.join('\n')}\n`;
};
