import { type PracticeData, percentAt, SLOWEST_PERCENT } from '../lesson/index.ts';
import type { Way } from '../player/index.ts';

/** All that the learner can set. */
export interface State {
  /** Ids: one version, or two neighbours together. */
  readonly versions: readonly string[];
  readonly percent: number;
  readonly goal: number;
  readonly swing: number | null;
  readonly countIn: boolean;
  readonly way: Way;
  readonly turnBars: number;
  readonly fiddle: number;
  readonly backing: number;
  readonly click: number;
  readonly rows: {
    readonly bows: boolean;
    readonly fingers: boolean;
    readonly names: boolean;
    readonly chords: boolean;
    readonly stays: boolean;
  };
  readonly barNotes: boolean;
  readonly size: number;
  /** Written bars, both included, counted through all parts. */
  readonly loop: { readonly from: number; readonly to: number } | null;
  /** The written bar that playing starts with; null: the first. */
  readonly at: number | null;
}

/** Range of the tempo, in hundredths of up to speed. */
export const PERCENT = { least: SLOWEST_PERCENT, most: 110 } as const;
/** Range of the swing, long : short. */
export const SWING = { least: 1, most: 2.2 } as const;
/** Range of the music's size, and its steps. */
export const SIZES = { least: 0.7, most: 2.4, step: 1.2 } as const;

/** How a lesson is opened the first time: the simplest version, slowly. */
export const firstState = (data: PracticeData): State => ({
  versions: [data.versions[0]?.id ?? ''],
  percent: percentAt(data, data.versions[0]?.learn ?? data.tempos.learn),
  goal: 100,
  swing: null,
  countIn: true,
  way: 'through',
  turnBars: 2,
  fiddle: 1,
  backing: 0.7,
  click: 0,
  rows: { bows: false, fingers: false, names: false, chords: false, stays: false },
  barNotes: false,
  size: 1,
  loop: null,
  at: null,
});

const WAYS: readonly Way[] = ['through', 'climb', 'turns', 'others'];
const TURNS = [1, 2, 4, 8];

const within = (value: unknown, least: number, most: number, otherwise: number): number =>
  typeof value === 'number' && value >= least && value <= most ? value : otherwise;

const isTrue = (value: unknown, otherwise: boolean): boolean =>
  typeof value === 'boolean' ? value : otherwise;

type Fields = Readonly<Record<string, unknown>>;
const fieldsOf = (value: unknown): Fields =>
  typeof value === 'object' && value !== null ? (value as Fields) : {};

const barIn = (value: unknown, bars: number): number | null =>
  typeof value === 'number' && Number.isInteger(value) && value >= 0 && value < bars ? value : null;

/** One version that there is, or two neighbours. */
const versionsIn = (value: unknown, data: PracticeData): readonly string[] | null => {
  if (!Array.isArray(value)) return null;
  const places = value.map((id) => data.versions.findIndex((v) => v.id === id));
  const [one, two] = places;
  if (one === undefined || one < 0 || places.length > 2) return null;
  if (two !== undefined && two !== one + 1) return null;
  return value as readonly string[];
};

const loopIn = (value: unknown, bars: number): State['loop'] => {
  const { from, to } = fieldsOf(value);
  const [first, last] = [barIn(from, bars), barIn(to, bars)];
  return first === null || last === null || last < first ? null : { from: first, to: last };
};

/** What was kept of a state, or written by hand, as a state: what does not fit is left as it was. */
export const stateFrom = (kept: unknown, before: State, data: PracticeData, bars: number): State => {
  const k = fieldsOf(kept);
  const rows = fieldsOf(k.rows);
  return {
    versions: versionsIn(k.versions, data) ?? before.versions,
    percent: within(k.percent, PERCENT.least, PERCENT.most, before.percent),
    goal: within(k.goal, PERCENT.least, PERCENT.most, before.goal),
    swing:
      k.swing === null ? null : within(k.swing, SWING.least, SWING.most, before.swing ?? Number.NaN) || null,
    countIn: isTrue(k.countIn, before.countIn),
    way: WAYS.find((w) => w === k.way) ?? before.way,
    turnBars: TURNS.find((t) => t === k.turnBars) ?? before.turnBars,
    fiddle: within(k.fiddle, 0, 1.5, before.fiddle),
    backing: within(k.backing, 0, 1.5, before.backing),
    click: within(k.click, 0, 1.5, before.click),
    rows: {
      bows: isTrue(rows.bows, before.rows.bows),
      fingers: isTrue(rows.fingers, before.rows.fingers),
      names: isTrue(rows.names, before.rows.names),
      chords: isTrue(rows.chords, before.rows.chords),
      stays: isTrue(rows.stays, before.rows.stays),
    },
    barNotes: isTrue(k.barNotes, before.barNotes),
    size: within(k.size, SIZES.least, SIZES.most, before.size),
    loop: k.loop === undefined ? before.loop : loopIn(k.loop, bars),
    at: k.at === undefined ? before.at : barIn(k.at, bars),
  };
};
