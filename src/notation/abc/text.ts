/** Combining mark of each accent mnemonic. Source: ABC standard 2.1, section 8.2 (supported accents and ligatures). */
const ACCENTS: Readonly<Record<string, string>> = {
  '`': '\u0300',
  "'": '\u0301',
  '^': '\u0302',
  '~': '\u0303',
  '"': '\u0308',
  c: '\u0327',
  u: '\u0306',
  v: '\u030c',
  H: '\u030b',
  '=': '\u0304',
  ';': '\u0328',
  '.': '\u0307',
};

/** Letters that are no letter with an accent. Source: as above. */
const LETTERS: Readonly<Record<string, string>> = {
  AA: 'Å',
  aa: 'å',
  AE: 'Æ',
  ae: 'æ',
  OE: 'Œ',
  oe: 'œ',
  ss: 'ß',
  '/O': 'Ø',
  '/o': 'ø',
  DH: 'Ð',
  dh: 'ð',
  TH: 'Þ',
  th: 'þ',
  '/D': 'Đ',
  '/d': 'đ',
  '/L': 'Ł',
  '/l': 'ł',
  "'i": 'í',
};

/** Named entities that tune books use. Source: ABC standard 2.1, section 8.2; HTML names. */
const ENTITIES: Readonly<Record<string, string>> = {
  amp: '&',
  quot: '"',
  lt: '<',
  gt: '>',
  nbsp: '\u00a0',
  copy: '©',
  reg: '®',
  szlig: 'ß',
  AElig: 'Æ',
  aelig: 'æ',
  OElig: 'Œ',
  oelig: 'œ',
  Aring: 'Å',
  aring: 'å',
  Oslash: 'Ø',
  oslash: 'ø',
  ETH: 'Ð',
  eth: 'ð',
  THORN: 'Þ',
  thorn: 'þ',
  ntilde: 'ñ',
  Ntilde: 'Ñ',
};
const ENTITY_ACCENTS: Readonly<Record<string, string>> = {
  grave: '\u0300',
  acute: '\u0301',
  circ: '\u0302',
  tilde: '\u0303',
  uml: '\u0308',
  cedil: '\u0327',
  breve: '\u0306',
  caron: '\u030c',
};
const LONGEST_ENTITY = 10;

const entity = (name: string): string | null => {
  const known = Object.hasOwn(ENTITIES, name) ? ENTITIES[name] : undefined;
  if (known !== undefined) return known;
  const accent = name.slice(1);
  const mark = Object.hasOwn(ENTITY_ACCENTS, accent) ? ENTITY_ACCENTS[accent] : undefined;
  return mark !== undefined && /^[A-Za-z]$/.test(name.charAt(0))
    ? `${name.charAt(0)}${mark}`.normalize('NFC')
    : null;
};

const hexadecimal = (text: string, from: number, digits: number): string | null => {
  const code = text.slice(from, from + digits);
  if (code.length !== digits || !/^[0-9a-fA-F]+$/.test(code)) return null;
  const value = Number.parseInt(code, 16);
  return value <= 0x10ffff ? String.fromCodePoint(value) : null;
};

/** What a backslash at `at` stands for, and how many characters it takes; null when it stands for itself. */
const mnemonic = (text: string, at: number): { readonly as: string; readonly length: number } | null => {
  const first = text.charAt(at + 1);
  if (first === '\\' || first === '%' || first === '&') return { as: first, length: 2 };
  const pair = text.slice(at + 1, at + 3);
  if (first === 'u' || first === 'U') {
    const digits = first === 'u' ? 4 : 8;
    const as = hexadecimal(text, at + 2, digits);
    if (as !== null) return { as, length: 2 + digits };
  }
  const letter = Object.hasOwn(LETTERS, pair) ? LETTERS[pair] : undefined;
  if (letter !== undefined) return { as: letter, length: 3 };
  const mark = Object.hasOwn(ACCENTS, first) ? ACCENTS[first] : undefined;
  const base = text.charAt(at + 2);
  if (mark !== undefined && /^[A-Za-z]$/.test(base)) {
    const as = `${base}${mark}`.normalize('NFC');
    if (as.length === 1) return { as, length: 3 };
  }
  return null;
};

/**
 * The text that a field, a chord symbol or an annotation means: accents written as `\'e`, `&eacute;` or `\u00e9` put in.
 *
 * What is no mnemonic stays as it stands.
 * @see Source: ABC standard 2.1, section 8.2 "Text strings"
 * @example decodeText("Caf\\'e") // "Café"
 */
export const decodeText = (text: string): string => {
  if (!text.includes('\\') && !text.includes('&')) return text;
  let result = '';
  for (let at = 0; at < text.length; ) {
    const char = text.charAt(at);
    if (char === '\\') {
      const found = mnemonic(text, at);
      result += found?.as ?? char;
      at += found?.length ?? 1;
    } else if (char === '&') {
      const length = text.slice(at + 1, at + 1 + LONGEST_ENTITY).indexOf(';');
      const end = at + 1 + length;
      const as = length > 0 ? entity(text.slice(at + 1, end)) : null;
      result += as ?? char;
      at = as === null ? at + 1 : end + 1;
    } else {
      result += char;
      at += 1;
    }
  }
  return result;
};

/** The text as it is written in a field: what `decodeText` would take for a mnemonic is protected. */
export const encodeText = (text: string): string =>
  text
    .replaceAll('\\', '\\\\')
    .replaceAll('%', '\\%')
    .replaceAll('&', '\\&')
    .replaceAll(/[\r\n\u2028\u2029]+/g, ' ');

/** The text as it is written between double quotes. */
export const encodeQuoted = (text: string): string => encodeText(text).replaceAll('"', '&quot;');
