/** The longest slug, in characters: leaves room for prefix and ending in every file system. Ours. */
const LONGEST = 48;

/**
 * A title as a file name: small letters a–z, digits and hyphens.
 * @param title - any text
 * @returns never empty; "tune" where nothing of the title is left
 * @example slugOf("The Ferryman's Wet Coat") // the-ferrymans-wet-coat
 */
export const slugOf = (title: string): string => {
  const plain = title
    .normalize('NFD')
    .replace(/[\u0300-\u036f'’`]/g, '')
    .toLowerCase()
    .replace(/ß/g, 'ss')
    .replace(/[æœ]/g, (c) => (c === 'æ' ? 'ae' : 'oe'))
    .replace(/[øð]/g, (c) => (c === 'ø' ? 'o' : 'd'))
    .replace(/[^a-z0-9]+/g, '-')
    .slice(0, LONGEST)
    .replace(/^-+|-+$/g, '');
  return plain === '' ? 'tune' : plain;
};
