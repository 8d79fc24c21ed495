/** Attributes of an element; those that are undefined are left out. */
export type Attributes = Readonly<Record<string, string | number | undefined>>;

const LOWEST_PRINTABLE = 0x20;
const MEANT = '\t\n\r';
const ENTITIES: Readonly<Record<string, string>> = { '&': '&amp;', '<': '&lt;', '>': '&gt;', '"': '&quot;' };

/** Text that stays as it is, as nearly all does. */
const PLAIN = /^[ !#-%'-;=?-~]*$/;

const isAllowed = (character: string): boolean => {
  const code = character.codePointAt(0) ?? 0;
  if (code < LOWEST_PRINTABLE) return MEANT.includes(character);
  return !(code >= 0xd800 && code <= 0xdfff) && code !== 0xfffe && code !== 0xffff;
};

/**
 * Text as XML text or attribute value: nothing in it can become markup.
 *
 * Characters that XML 1.0 does not allow (controls, lone surrogates) are dropped. Source: XML 1.0, section 2.2.
 */
export const escapeXml = (text: string): string =>
  PLAIN.test(text)
    ? text
    : [...text]
        .filter(isAllowed)
        .join('')
        .replace(/[&<>"]/g, (c) => ENTITIES[c] ?? c);

/** One element as text; empty where it has no children. */
export const element = (name: string, attributes: Attributes, children: readonly string[] = []): string => {
  let written = '';
  for (const [key, value] of Object.entries(attributes))
    if (value !== undefined) written += ` ${key}="${escapeXml(String(value))}"`;
  return children.length === 0 ? `<${name}${written}/>` : `<${name}${written}>${children.join('')}</${name}>`;
};
