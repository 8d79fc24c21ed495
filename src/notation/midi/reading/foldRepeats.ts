import { fingerprintOf, type LooseBar } from '../../../score/index.ts';

/** Bars of a part that may be repeated, the longest first. Common practice. */
const PARTS = [16, 8, 4] as const;

/** Whether two stretches of bars sound the same. */
const sameStretch = (prints: readonly string[], a: number, b: number, length: number): boolean =>
  b + length <= prints.length &&
  Array.from({ length }, (_, i) => prints[a + i] === prints[b + i]).every(Boolean);

/** Whether a stretch is repeated behind itself, its last bar aside: that may lead into something else. */
const comesAgain = (prints: readonly string[], at: number, length: number): boolean =>
  at + 2 * length <= prints.length && sameStretch(prints, at, at + length, length - 1);

/** Bars of a tune that is played several times through, once. The last bar may end differently. */
const onceThrough = (prints: readonly string[]): number => {
  const bars = prints.length;
  for (let length = 8; length <= bars / 2; length += 1) {
    if (bars % length !== 0) continue;
    const passes = Array.from({ length: bars / length - 1 }, (_, i) => (i + 1) * length);
    const repeatsInside = PARTS.some((n) => 2 * n <= length && comesAgain(prints, 0, n));
    const isPart = passes.length === 1 && PARTS.some((n) => n === length) && !repeatsInside;
    if (!isPart && passes.every((at) => sameStretch(prints, 0, at, length - 1))) return length;
  }
  return bars;
};

/** A repeated part: its bars once; two endings where the second time ends otherwise. */
const repeated = (bars: readonly LooseBar[], length: number): readonly LooseBar[] => {
  const [first, second] = [bars[length - 1], bars[2 * length - 1]];
  if (first === undefined || second === undefined) return bars;
  const opening = bars.slice(0, length - 1).map((bar, i) => ({ ...bar, repeatStart: i === 0 ? 1 : 0 }));
  if (fingerprintOf(first) === fingerprintOf(second)) return [...opening, { ...first, repeatEnd: 1 }];
  const endings = [
    { ...first, ending: [1], repeatEnd: 1 },
    { ...second, ending: [2], line: 'double' as const },
  ];
  return [...opening, ...endings];
};

/**
 * Writes what is played twice in a row once, with repeat signs.
 *
 * Parts are looked for where parts begin: at the tune's first bar, and behind a part or a phrase of eight.
 * @param bars - as played
 * @param lead - how many bars stand before the first full one: a pick-up
 */
export const foldRepeats = (bars: readonly LooseBar[], lead: number): readonly LooseBar[] => {
  const full = bars.slice(lead);
  const prints = full.map(fingerprintOf);
  const length = onceThrough(prints);
  const folded: LooseBar[] = [...bars.slice(0, lead)];
  for (let at = 0; at < length; ) {
    const part = PARTS.find((n) => at + 2 * n <= length && comesAgain(prints, at, n));
    const phrase = Math.min(8, length - at);
    folded.push(
      ...(part === undefined ? full.slice(at, at + phrase) : repeated(full.slice(at, at + 2 * part), part)),
    );
    at += part === undefined ? phrase : 2 * part;
  }
  return folded;
};
