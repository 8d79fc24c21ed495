import { DEEPEST_PART_ORDER, LONGEST_PART_ORDER } from './limits.ts';
import { wholeNumberAt } from './numbers.ts';

/**
 * Expands the part order of a header's `P:`: letters, numbers behind letters or brackets for repeats, dots ignored.
 * @returns the labels in playing order; null when it is no order, nests too deep or is too long
 * @see Source: ABC standard 2.1, section 3.1.9 "P: - parts"
 * @example readPartOrder('((AB)3.(CD)3)2')?.length // 24
 */
export const readPartOrder = (text: string): readonly string[] | null => {
  let at = 0;
  const sequence = (depth: number): string[] | null => {
    const result: string[] = [];
    while (at < text.length && text.charAt(at) !== ')') {
      const char = text.charAt(at);
      at += 1;
      let item: string[] | null;
      if (char === '.' || char === ' ' || char === ',') continue;
      if (char === '(') {
        item = depth < DEEPEST_PART_ORDER ? sequence(depth + 1) : null;
        if (text.charAt(at) !== ')') return null;
        at += 1;
      } else item = /^[A-Z]$/.test(char) ? [char] : null;
      if (item === null) return null;
      const times = wholeNumberAt(text, at);
      at = times?.end ?? at;
      const count = times?.value ?? 1;
      if (result.length + item.length * count > LONGEST_PART_ORDER) return null;
      for (let n = 0; n < count; n += 1) result.push(...item);
    }
    return result;
  };
  const order = sequence(0);
  return order === null || at < text.length || order.length === 0 ? null : order;
};
