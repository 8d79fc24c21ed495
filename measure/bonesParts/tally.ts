import { cellsOf, figure, fillOf, grate, type SoundedBar, type Struck, soundingAt } from './sounded.ts';

// What each row counts is defined, in a musician's words, in docs/decisions/01-bones.md.

/** Count of what holds among what could. */
export interface Share {
  yes: number;
  of: number;
}

/** Everything that is counted over the bars of a tune or a corpus. */
export interface Tally {
  readonly shares: Record<ShareName, Share>;
  readonly counts: Record<CountName, number>;
  /** Fill of the running bars, tune by tune. */
  readonly fills: number[];
  bars: number;
}

const SHARES = [
  'onsets',
  'lengths',
  'beats',
  'offBeats',
  'code',
  'long',
  'finals',
  'highest',
  'simple',
  'crotchet',
  'oneNote',
  'running',
  'strange',
  'unison',
  'harsh',
  'easier',
  'equalBars',
  'equalCells',
  'evenReel',
  'evenReelMoving',
  'evenAll',
] as const;
type ShareName = (typeof SHARES)[number];
const COUNTS = ['syncopations', 'clashes', 'leapsFifth', 'leapsOctave'] as const;
type CountName = (typeof COUNTS)[number];

/** An empty tally. */
export const newTally = (): Tally => ({
  shares: Object.fromEntries(SHARES.map((n) => [n, { yes: 0, of: 0 }])) as Record<ShareName, Share>,
  counts: Object.fromEntries(COUNTS.map((n) => [n, 0])) as Record<CountName, number>,
  fills: [],
  bars: 0,
});

const count = (tally: Tally, name: ShareName, holds: boolean): void => {
  tally.shares[name].of += 1;
  if (holds) tally.shares[name].yes += 1;
};

/** Figures of the trade, by the places struck in a cell; a cell that a note rings into counts as struck there. */
const TRADE = new Set(['1011', '1110', '1010', '1001', '1000', '1111', '101', '100', '111', '11', '10', '1']);
/** Figures of a bar that is simple already. */
const SIMPLE = new Set(['1011', '1110', '1010', '1001', '1000', '101', '100', '11', '10', '1']);
/** No fuller than this is simple. */
const SIMPLE_FILL = 2 / 3;

const isRunning = (bar: SoundedBar): boolean => {
  const { places, struck } = fillOf(bar);
  return bar.role === 'full' && places > 2 && 4 * struck >= 3 * places;
};

const sameNotes = (a: readonly Struck[], b: readonly Struck[]): boolean =>
  a.length === b.length &&
  a.every((n, i) => n.at === b[i]?.at && n.midi === b[i]?.midi && n.until === b[i]?.until);

const isSimple = (bar: SoundedBar): boolean => {
  const { places, struck } = fillOf(bar);
  if (bar.notes.some((n) => n.at % bar.running !== 0) || struck > SIMPLE_FILL * places + 0.01) return false;
  return cellsOf(bar).every(({ from, to }) => SIMPLE.has(figure(bar, from, to).replace(/^0/, '1')));
};

const countNotes = (plain: SoundedBar, bones: SoundedBar, tally: Tally): void => {
  const kept = (n: Struck): boolean => bones.notes.some((b) => b.at === n.at && b.midi === n.midi);
  for (const b of bones.notes)
    count(
      tally,
      'onsets',
      plain.notes.some((n) => n.at === b.at && n.midi === b.midi),
    );
  for (const n of plain.notes) {
    const at = plain.offset + n.at;
    if (at % plain.beat === 0) count(tally, 'beats', kept(n));
    else if (at % plain.pulse === 0 && plain.beat > plain.pulse) count(tally, 'offBeats', kept(n));
    if (n.sounding >= 2 * plain.running) count(tally, 'long', kept(n));
    if (kept(n)) continue;
    const held = soundingAt(bones, n.at);
    if (held === null || held === n.midi) continue;
    count(tally, 'harsh', grate(held, n.midi));
    if (at % plain.pulse === 0 && grate(held, n.midi)) tally.counts.clashes += 1;
  }
  for (const b of bones.notes) {
    if ((bones.offset + b.at) % plain.pulse === 0) continue;
    const over = plain.notes.some(
      (n) => n.at > b.at && n.at < b.until && (plain.offset + n.at) % plain.pulse === 0,
    );
    if (over) tally.counts.syncopations += 1;
  }
};

const countTime = (plain: SoundedBar, bones: SoundedBar, tally: Tally): void => {
  const edges = [...new Set([...plain.notes, ...bones.notes].flatMap((n) => [n.at, n.until]).concat(0))].sort(
    (a, b) => a - b,
  );
  edges.slice(0, -1).forEach((from, i) => {
    const [p, b] = [soundingAt(plain, from), soundingAt(bones, from)];
    if (p === null && b === null) return;
    const length = (edges[i + 1] ?? from) - from;
    tally.shares.unison.of += length;
    if (p === b) tally.shares.unison.yes += length;
  });
};

const countRhythm = (plain: SoundedBar, bones: SoundedBar, tally: Tally): void => {
  count(tally, 'lengths', plain.length === bones.length);
  for (const { from, to } of cellsOf(plain)) {
    if (to - from < plain.cell) continue;
    const [was, is] = [figure(plain, from, to), figure(bones, from, to)];
    count(tally, 'strange', was !== is && !TRADE.has(is.replace(/^0/, '1')));
  }
  if (plain.role !== 'full') return;
  tally.bars += 1;
  if (isSimple(plain)) count(tally, 'simple', sameNotes(plain.notes, bones.notes));
  const longEnough = (n: { until: number; at: number }): boolean => n.until - n.at >= 2 * plain.running;
  const rings = bones.carried !== null && bones.carried.until >= 2 * plain.running;
  if (plain.notes.length > 0 && plain.length >= 4 * plain.running)
    count(tally, 'crotchet', rings || bones.notes.some(longEnough));
  if (plain.notes.length > 1) count(tally, 'oneNote', bones.notes.length === 1);
  if (!isRunning(plain)) return;
  const moves = bones.notes.some((n) => n.until - n.at < 2 * plain.running);
  count(tally, 'running', moves);
  const even = bones.notes.length % 2 === 0;
  const reel = plain.metre === '4/4' || plain.metre === '2/2';
  if (reel) count(tally, 'evenReel', even);
  if (reel && moves) count(tally, 'evenReelMoving', even);
  if ((plain.length / plain.beat) % 2 === 0) count(tally, 'evenAll', even);
};

/** Leaps between neighbours in the bones whose notes are not neighbours in the plain version. */
const countLeaps = (plain: readonly SoundedBar[], bones: readonly SoundedBar[], tally: Tally): void => {
  const line = (bars: readonly SoundedBar[]) =>
    bars.flatMap((bar, b) => bar.notes.map((n) => ({ key: `${b}/${n.at}`, midi: n.midi })));
  const place = new Map(line(plain).map((n, i) => [n.key, i]));
  const kept = line(bones);
  kept.forEach((n, i) => {
    const before = kept[i - 1];
    if (before === undefined) return;
    if ((place.get(n.key) ?? 0) - (place.get(before.key) ?? 0) === 1) return;
    const leap = Math.abs(n.midi - before.midi);
    if (leap > 7) tally.counts.leapsFifth += 1;
    if (leap > 12) tally.counts.leapsOctave += 1;
  });
};

const countParts = (plain: readonly SoundedBar[], bones: readonly SoundedBar[], tally: Tally): void => {
  const parts = [...new Set(plain.map((b) => b.part))];
  for (const part of parts) {
    const [was, is] = [plain, bones].map((bars) => bars.filter((b) => b.part === part));
    const notes = (was ?? []).flatMap((b) => b.notes);
    if (notes.length === 0) continue;
    const highest = Math.max(...notes.map((n) => n.midi));
    count(
      tally,
      'highest',
      (is ?? []).some((b) => b.notes.some((n) => n.midi === highest)),
    );
    const at = (was ?? []).findLastIndex((b) => b.notes.length > 0);
    const [last, kept] = [was?.[at]?.notes.at(-1), is?.[at]?.notes.at(-1)];
    count(tally, 'finals', last?.at === kept?.at && last?.midi === kept?.midi && last?.until === kept?.until);
  }
};

const countCode = (plain: readonly SoundedBar[], bones: readonly SoundedBar[], tally: Tally): void => {
  const hook = plain.flatMap((bar, i) => (bar.role === 'full' ? [i] : [])).slice(0, 2);
  for (const i of hook) {
    const [was, is] = [plain[i], bones[i]];
    if (was === undefined || is === undefined) continue;
    for (let at = 0; at < was.length; at += was.pulse)
      count(tally, 'code', soundingAt(was, at) === soundingAt(is, at));
  }
};

const pairs = (groups: Map<string, string[]>, tally: Tally, name: ShareName): void => {
  for (const group of groups.values())
    group.forEach((a, i) => {
      for (const b of group.slice(i + 1)) count(tally, name, a === b);
    });
};

const said = (bar: SoundedBar, from: number, to: number): string =>
  bar.notes
    .filter((n) => n.at >= from && n.at < to)
    .map((n) => `${n.at - from}:${Math.min(n.until, to) - from}:${n.midi}`)
    .join(' ');

const countEqual = (plain: readonly SoundedBar[], bones: readonly SoundedBar[], tally: Tally): void => {
  const bars = new Map<string, string[]>();
  const cells = new Map<string, string[]>();
  const add = (map: Map<string, string[]>, key: string, value: string): void => {
    const group = map.get(key);
    if (group === undefined) map.set(key, [value]);
    else group.push(value);
  };
  plain.forEach((was, i) => {
    const is = bones[i];
    if (is === undefined || was.notes.length === 0) return;
    const ring = `${was.carried?.midi ?? ''}/${was.rests.join()}/${was.length}/${was.offset}`;
    add(bars, `${ring} ${said(was, 0, was.length)}`, said(is, 0, is.length));
    for (const { from, to } of cellsOf(was)) {
      const inside = was.notes.filter((n) => n.at >= from && n.at < to).length;
      if (inside > 1 && !was.rests.some((r) => r >= from && r < to))
        add(cells, `${to - from} ${said(was, from, to)}`, said(is, from, to));
    }
  });
  pairs(bars, tally, 'equalBars');
  pairs(cells, tally, 'equalCells');
};

/** Fewer notes, no bar with more, and less work on the scale of difficulty where that is known: counted where a bar runs. */
const countEasier = (tune: TunePair, tally: Tally): void => {
  const { plain, bones } = tune;
  if (!plain.some(isRunning)) return;
  const total = (bars: readonly SoundedBar[]): number => bars.reduce((sum, b) => sum + b.notes.length, 0);
  const noBarFuller = plain.every((b, i) => (bones[i]?.notes.length ?? 0) <= b.notes.length);
  count(tally, 'easier', total(bones) < total(plain) && noBarFuller && tune.lessWork);
};

/** A plain version and what was made of it. */
export interface TunePair {
  readonly plain: readonly SoundedBar[];
  readonly bones: readonly SoundedBar[];
  /** Whether it is less work for the hands at one tempo; true where nobody asked. */
  readonly lessWork: boolean;
}

/** Adds one tune to a tally. */
export const tallyTune = (tune: TunePair, tally: Tally): void => {
  const { plain, bones } = tune;
  plain.forEach((was, i) => {
    const is = bones[i];
    if (is === undefined) return;
    countNotes(was, is, tally);
    countTime(was, is, tally);
    countRhythm(was, is, tally);
  });
  countLeaps(plain, bones, tally);
  countParts(plain, bones, tally);
  countCode(plain, bones, tally);
  countEqual(plain, bones, tally);
  countEasier(tune, tally);
  const running = plain.flatMap((bar, i) => (isRunning(bar) ? [bones[i] as SoundedBar] : []));
  if (running.length === 0) return;
  const shares = running.map(fillOf).map(({ places, struck }) => struck / places);
  tally.fills.push(shares.reduce((a, b) => a + b, 0) / shares.length);
};

/** yes ÷ of; 1 when there was nothing to count. */
export const shareOf = ({ yes, of }: Share): number => (of === 0 ? 1 : yes / of);
