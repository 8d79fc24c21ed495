/** A piece of a drawing: an element or the text inside one. */
export type SvgNode = SvgElement | string;

/** An element of a drawing. */
export interface SvgElement {
  readonly name: string;
  readonly attributes: Readonly<Record<string, string>>;
  readonly children: readonly SvgNode[];
}

/** An element; attributes that are undefined are left out, numbers are rounded. */
export const svg = (
  name: string,
  attributes: Readonly<Record<string, string | number | undefined>>,
  children: readonly SvgNode[] = [],
): SvgElement => {
  const written: Record<string, string> = {};
  for (const [key, value] of Object.entries(attributes))
    if (value !== undefined) written[key] = typeof value === 'number' ? rounded(value) : value;
  return { name, attributes: written, children };
};

/** Decimals that a drawing keeps: a hundredth of a point cannot be seen. Ours. */
const DECIMALS = 2;

/** A number as it is written in a drawing. */
const rounded = (value: number): string => String(Number(value.toFixed(DECIMALS)));

const ENTITIES: Readonly<Record<string, string>> = { amp: '&', lt: '<', gt: '>', quot: '"', apos: "'" };

const decode = (text: string): string => {
  if (!text.includes('&')) return text;
  return text.replace(/&(?:#x([0-9a-fA-F]+)|#(\d+)|(\w+));/g, (all, hex, decimal, name) => {
    if (hex !== undefined) return String.fromCodePoint(Number.parseInt(hex, 16));
    if (decimal !== undefined) return String.fromCodePoint(Number(decimal));
    return ENTITIES[name] ?? all;
  });
};

const escapeText = (text: string): string =>
  !/[&<>"]/.test(text)
    ? text
    : text.replace(/&/g, '&amp;').replace(/</g, '&lt;').replace(/>/g, '&gt;').replace(/"/g, '&quot;');

const TOKEN =
  /<(\/?)([A-Za-z][\w:.-]*)((?:\s+[\w:.-]+\s*=\s*(?:"[^"]*"|'[^']*'))*)\s*(\/?)>|<[!?][^>]*>|([^<]+)/g;

const ATTRIBUTE = /([\w:.-]+)\s*=\s*(?:"([^"]*)"|'([^']*)')/g;

const readAttributes = (text: string): Record<string, string> => {
  const attributes: Record<string, string> = {};
  for (const [, key, double, single] of text.matchAll(ATTRIBUTE))
    if (key !== undefined) attributes[key] = decode(double ?? single ?? '');
  return attributes;
};

interface Open {
  readonly name: string;
  readonly attributes: Record<string, string>;
  readonly children: SvgNode[];
}

/**
 * Reads a drawing as the engraving program writes it: elements, attributes, text, no DTD.
 * @throws RangeError when tags do not match (never the user's doing)
 */
export const readSvg = (text: string): SvgElement => {
  const root: Open = { name: '', attributes: {}, children: [] };
  const stack: Open[] = [root];
  for (const [, closing, name, attributes, empty, characters] of text.matchAll(TOKEN)) {
    const top = stack.at(-1) ?? root;
    if (characters !== undefined) {
      if (characters.trim() !== '' || top.name === 'tspan') top.children.push(decode(characters));
    } else if (name !== undefined && closing === '/') {
      if (top.name !== name) throw new RangeError(`</${name}> closes <${top.name}>`);
      stack.pop();
      stack.at(-1)?.children.push(top);
    } else if (name !== undefined) {
      const node: Open = { name, attributes: readAttributes(attributes ?? ''), children: [] };
      if (empty === '/') top.children.push(node);
      else stack.push(node);
    }
  }
  const found = root.children.find((c): c is SvgElement => typeof c !== 'string');
  if (found === undefined || stack.length > 1) throw new RangeError('no whole drawing');
  return found;
};

/** A drawing as text, without needless space. */
export const writeSvg = (node: SvgNode): string => {
  if (typeof node === 'string') return escapeText(node);
  const attributes = Object.entries(node.attributes)
    .map(([key, value]) => ` ${key}="${escapeText(value)}"`)
    .join('');
  if (node.children.length === 0) return `<${node.name}${attributes}/>`;
  return `<${node.name}${attributes}>${node.children.map(writeSvg).join('')}</${node.name}>`;
};

/** All elements of a drawing, outer before inner. */
export const elementsOf = (node: SvgNode): readonly SvgElement[] => {
  const found: SvgElement[] = [];
  const visit = (one: SvgNode): void => {
    if (typeof one === 'string') return;
    found.push(one);
    one.children.forEach(visit);
  };
  visit(node);
  return found;
};

/** Whether an element is of a class. */
export const hasClass = ({ attributes }: SvgElement, name: string): boolean =>
  attributes.class?.includes(name) === true && attributes.class.split(' ').includes(name);
