import type { XmlElement } from './xml.ts';

/** The child elements of that name, in order. */
export const childrenNamed = (element: XmlElement, name: string): readonly XmlElement[] =>
  element.children.filter((c): c is XmlElement => c !== null && typeof c !== 'string' && c.name === name);

/** The first element at the end of a path of names; null where there is none. */
export const elementAt = (element: XmlElement, ...path: readonly string[]): XmlElement | null => {
  let at: XmlElement | null = element;
  for (const name of path) at = at === null ? null : (childrenNamed(at, name)[0] ?? null);
  return at;
};

/** The element's text without what its child elements hold, blanks at both ends taken off. */
export const textOf = (element: XmlElement): string =>
  element.children
    .filter((c) => typeof c === 'string')
    .join('')
    .trim();

/** The text at the end of a path of names; null where there is no element. */
export const textAt = (element: XmlElement, ...path: readonly string[]): string | null => {
  const found = elementAt(element, ...path);
  return found === null ? null : textOf(found);
};

/** The number at the end of a path of names; null where there is none, or the text is no finite number. */
export const numberAt = (element: XmlElement, ...path: readonly string[]): number | null => {
  const text = textAt(element, ...path);
  const number = text === null || text === '' ? Number.NaN : Number(text);
  return Number.isFinite(number) ? number : null;
};

/** An attribute as text; null where it is missing. */
export const attributeOf = (element: XmlElement, name: string): string | null => {
  const value = element.attributes[name];
  return value === undefined ? null : String(value);
};
