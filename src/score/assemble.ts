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

/**
 * Cuts a tune without any marks into phrases of eight full bars, a pick-up going with the phrase that it leads into.
 *
 * Where some marks stand, the writer has said what the parts are: a part of sixteen bars is one part.
 */
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

/** The written label; with a number where it is taken. */
const freeLabel = (written: string, used: ReadonlySet<string>): string => {
  let label = written;
  for (let n = 2; used.has(label); n += 1) label = `${written}${n}`;
  return label;
};

/** The next letter that no part has and none is written to have. */
const freeLetter = (from: number, written: ReadonlySet<string>, used: ReadonlySet<string>): string => {
  let index = from;
  while (used.has(labelFor(index)) || written.has(labelFor(index))) index += 1;
  return labelFor(index);
};

/**
 * Whether a bar is one of the count, a pick-up, or the rest of a bar that was split.
 * @param stem - the bar that the endings branch off from: an ending may begin inside a bar
 */
const roleOf = (
  bar: LooseBar,
  before: LooseBar | undefined,
  stem: LooseBar | undefined,
  firstInPart: boolean,
): BarRole => {
  if (!isShort(bar)) return 'full';
  if (before !== undefined && before.line === 'none' && isShort(before)) return 'restOfBar';
  if (firstInPart) return 'pickup';
  if (before === undefined) return 'full';
  if (bar.ending !== null) return stem !== undefined && fitTogether(stem, bar) ? 'restOfBar' : 'full';
  if (bar.repeatStart > 0) return 'pickup';
  if (!closesSection(before)) return 'full';
  return fitTogether(before, bar) ? 'restOfBar' : 'pickup';
};

// Field by field: a tune book has a hundred thousand bars, and copying by spreading takes several times as long.
const asBar = (loose: LooseBar, role: BarRole, number: number | null): Bar => ({
  events: loose.events,
  key: loose.key,
  metre: loose.metre,
  role,
  number,
  repeatStart: loose.repeatStart,
  repeatEnd: loose.repeatEnd,
  line: loose.line,
  ending: loose.ending,
  chords: loose.chords,
  annotations: loose.annotations,
  fields: loose.fields,
  tempo: loose.tempo,
  lineEnd: loose.lineEnd,
});

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
  const writtenLabels = new Set(bars.flatMap((b) => b.partLabel ?? []));
  const anyNamed = writtenLabels.size > 0;
  const cut = anyNamed ? namedSections(bars) : joinLonePickups(sections(bars));
  const phrased = cut.length === 1 && !anyNamed ? cut.flatMap(cutAtPhrases) : cut;
  const used = new Set<string>();
  let number = 0;
  let before: LooseBar | undefined;
  let stem: LooseBar | undefined;
  const parts = phrased.map((section, i): Part => {
    const written = section.find((bar) => bar.partLabel !== null)?.partLabel ?? null;
    const label = written === null ? freeLetter(i, writtenLabels, used) : freeLabel(written, used);
    used.add(label);
    const numbered = section.map((loose, k): Bar => {
      if (loose.ending !== null && (before === undefined || !closesSection(before))) stem = before;
      const role = roleOf(loose, before, stem, k === 0);
      before = loose;
      if (role === 'full') number += 1;
      return asBar(loose, role, role === 'full' ? number : null);
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
    const [only, second] = current ?? [];
    // A pick-up written before the first label leads into the part that the label names.
    const leadsIn = result.length === 1 && second === undefined && only?.partLabel === null && isShort(only);
    if (current === undefined || (bar.partLabel !== null && !leadsIn)) result.push([bar]);
    else current.push(bar);
  }
  return result;
};
