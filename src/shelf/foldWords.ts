/** Letters that have no accent to take off, as people type them. */
const LETTERS: Readonly<Record<string, string>> = {
  ß: 'ss',
  æ: 'ae',
  œ: 'oe',
  ø: 'o',
  ð: 'd',
  þ: 'th',
  ł: 'l',
  đ: 'd',
  ı: 'i',
};

/**
 * The words of a text without accents, case, apostrophes and signs.
 * @example foldWords("The Ferryman's Wet Coat") // ['the', 'ferrymans', 'wet', 'coat']
 */
export const foldWords = (text: string): readonly string[] =>
  text
    .normalize('NFD')
    .replace(/\p{M}/gu, '')
    .toLowerCase()
    .replace(/['’‘`´]/g, '')
    .replace(/[ßæœøðþłđı]/g, (letter) => LETTERS[letter] ?? letter)
    .split(/[^\p{L}\p{N}#]+/u)
    .filter((word) => word !== '');

/** A word of so many letters may have one wrong, missing, added or two swapped. Ours. */
const LONG_ENOUGH = 4;

/** Whether two words differ by one letter at most: another, one more, one less, two neighbours swapped. */
const oneApart = (a: string, b: string): boolean => {
  if (Math.abs(a.length - b.length) > 1) return false;
  let start = 0;
  while (start < a.length && start < b.length && a[start] === b[start]) start += 1;
  const restOfA = a.slice(start);
  const restOfB = b.slice(start);
  return (
    restOfA.slice(1) === restOfB.slice(1) ||
    restOfA.slice(1) === restOfB ||
    restOfA === restOfB.slice(1) ||
    (restOfA[0] === restOfB[1] && restOfA[1] === restOfB[0] && restOfA.slice(2) === restOfB.slice(2))
  );
};

/**
 * How well a typed word fits one that stands somewhere: 1 the same, less for its beginning, less again where one letter
 * is wrong; 0 not at all.
 * @param typed - folded, as the other
 */
export const likeness = (typed: string, word: string): number => {
  if (word === typed) return 1;
  if (word.startsWith(typed)) return 0.8;
  if (typed.length < LONG_ENOUGH) return 0;
  if (oneApart(typed, word)) return 0.5;
  if (word.length <= typed.length) return 0;
  const beginnings = [typed.length - 1, typed.length, typed.length + 1];
  return beginnings.some((length) => oneApart(typed, word.slice(0, length))) ? 0.3 : 0;
};
