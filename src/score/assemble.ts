import { compare, type Diagnostic, subtract, sum } from '../core/index.ts';
import { barLengthOf } from '../music/index.ts';
import type { Bar, BarRole, Part } from './score.ts';

/** A bar before it belongs to a part: all but its role and number, and the `P:` label that stood before it, if any. */
export type LooseBar = Omit<Bar, 'role' | 'number'> & { readonly partLabel: string | null };

/** Bars in a phrase of nearly every dance tune. Common practice. */
const PHRASE_BARS = 8;
/** A part without marks of its own is cut at phrases only if it is at least this long. Ours. */
const LONG_PART_BARS = 16;

const lengthOf = (bar: Pick<Bar, 'events'>) => sum(bar.events.map((e) => e.length));
const isShort = (bar: LooseBar): boolean => {
  const full = barLengthOf(bar.metre);
  return full !== null && compare(lengthOf(bar), full) < 0;
};
const fitTogether = (first: LooseBar, second: LooseBar): boolean => {
  const full = barLengthOf(first.metre);
  return full !== null && compare(subtract(full, lengthOf(first)), lengthOf(second)) === 0;
};
const closesSection = (bar: LooseBar): boolean =>
  bar.repeatEnd > 0 || bar.line === 'double' || bar.line === 'final' || bar.line === 'heavyDouble';

/** Whether the bar at `at` begins a part: after a double bar or a repeat end that no second ending follows, or at a repeat start. */
const beginsSection = (bars: readonly LooseBar[], at: number): boolean => {
  const bar = bars[at];
  const before = bars[at - 1];
  if (bar === undefined) return false;
  if (before === undefined || bar.partLabel !== null) return true;
  if (bar.ending !== null) return false;
  if (bar.repeatStart > 0) return true;
  return closesSection(before);
};

/** Cuts a long stretch without marks into phrases of eight full bars, a pick-up going with the phrase that it leads into. */
const cutAtPhrases = (bars: readonly LooseBar[]): readonly (readonly LooseBar[])[] => {
  const marked = bars.some((b) => b.ending !== null || b.repeatStart > 0 || b.repeatEnd > 0);
  const full = bars.filter((b, i) => !(i === 0 && isShort(b))).length;
  if (marked || full < LONG_PART_BARS || full % PHRASE_BARS !== 0) return [bars];
  const lead = bars.length - full;
  const phrases: (readonly LooseBar[])[] = [];
  for (let at = 0; at < full; at += PHRASE_BARS) {
    phrases.push(bars.slice(at === 0 ? 0 : at + lead, at + lead + PHRASE_BARS));
  }
  return phrases;
};

const sections = (bars: readonly LooseBar[]): readonly (readonly LooseBar[])[] => {
  const result: LooseBar[][] = [];
  bars.forEach((bar, i) => {
    const current = result.at(-1);
    if (current === undefined || beginsSection(bars, i)) result.push([bar]);
    else current.push(bar);
  });
  return result;
};

/** A lone pick-up (nothing in it but a part of a bar) belongs to the section that follows. */
const joinLonePickups = (cut: readonly (readonly LooseBar[])[]): readonly (readonly LooseBar[])[] => {
  const result: LooseBar[][] = [];
  let waiting: readonly LooseBar[] = [];
  cut.forEach((section, i) => {
    const only = section[0];
    const next = cut[i + 1]?.[0];
    const joins = section.length === 1 && only !== undefined && isShort(only) && only.repeatEnd === 0;
    if (joins && next !== undefined && next.partLabel === null && waiting.length === 0) waiting = section;
    else {
      result.push([...waiting, ...section]);
      waiting = [];
    }
  });
  if (waiting.length > 0) result.push([...waiting]);
  return result;
};

const labelFor = (index: number): string => {
  const letter = String.fromCharCode(65 + (index % 26));
  return index < 26 ? letter : `${letter}${Math.floor(index / 26) + 1}`;
};

const roleOf = (bar: LooseBar, before: LooseBar | undefined, firstInPart: boolean): BarRole => {
  if (!isShort(bar)) return 'full';
  if (before !== undefined && before.line === 'none' && fitTogether(before, bar)) return 'restOfBar';
  if (firstInPart) return 'pickup';
  if (before === undefined || !isShort(before)) return 'full';
  const split = closesSection(before) || bar.ending !== null || bar.repeatStart > 0;
  return split && fitTogether(before, bar) ? (bar.repeatStart > 0 ? 'pickup' : 'restOfBar') : 'full';
};

/**
 * Groups a tune's bars into parts and gives every bar its role and printed number.
 *
 * Parts come from `P:` labels; where there are none, from double bars and repeats, and in long stretches without
 * marks from eight-bar phrases. A repeated label gets a number ("A2"), so that labels stay unique.
 * @param bars - the bars in written order
 * @returns the parts, and remarks on what was judged
 * @example a tune of one pick-up, eight bars, a repeat end, eight bars → parts A (9 bars, one a pick-up) and B
 */
export const assembleParts = (
  bars: readonly LooseBar[],
): { readonly parts: readonly Part[]; readonly diagnostics: readonly Diagnostic[] } => {
  if (bars.length === 0) return { parts: [], diagnostics: [] };
  const anyNamed = bars.some((b) => b.partLabel !== null);
  const cut = anyNamed ? namedSections(bars) : joinLonePickups(sections(bars));
  const phrased = anyNamed ? cut : cut.flatMap(cutAtPhrases);
  const used = new Set<string>();
  let number = 0;
  let before: LooseBar | undefined;
  const parts = phrased.map((section, i): Part => {
    const written = section[0]?.partLabel ?? null;
    let label = written ?? labelFor(i);
    for (let n = 2; used.has(label); n += 1) label = `${written ?? labelFor(i)}${n}`;
    used.add(label);
    const numbered = section.map((loose, k): Bar => {
      const role = roleOf(loose, before, k === 0);
      before = loose;
      if (role === 'full') number += 1;
      const { partLabel: _, ...bar } = loose;
      return { ...bar, role, number: role === 'full' ? number : null };
    });
    return { label, named: written !== null, bars: numbered };
  });
  const phrasesJudged = phrased.length > cut.length;
  const diagnostics: Diagnostic[] = phrasesJudged
    ? [
        {
          code: 'parts-from-phrases',
          severity: 'remark',
          message: `No repeats or double bars say where the parts are: taken as ${phrased.length} parts from phrases of ${PHRASE_BARS} bars.`,
          hint: 'Write P:A, P:B … before the parts, or double bars, to say it yourself.',
        },
      ]
    : [];
  return { parts, diagnostics };
};

const namedSections = (bars: readonly LooseBar[]): readonly (readonly LooseBar[])[] => {
  const result: LooseBar[][] = [];
  for (const bar of bars) {
    const current = result.at(-1);
    if (current === undefined || bar.partLabel !== null) result.push([bar]);
    else current.push(bar);
  }
  return result;
};
