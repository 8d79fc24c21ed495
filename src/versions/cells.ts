import {
  BAR,
  type DensityStep,
  EXTRA_IN_PLACE,
  EXTRA_IN_PLACE_SNAPPED,
  FIGURES,
  GOOD_FIGURE_CHANGED,
  HELD_INTO_CELL,
  MOST_WEIGHED,
  ODD_RUN_KEPT,
  STRANGE_FIGURE,
} from './data.ts';
import { neighbourCost } from './hands.ts';
import { heldAgainst, type WeighedBar, type WeighedNote } from './weigh.ts';

/** A cell of a bar (half a bar of a reel, a beat of a jig) for which one figure is chosen. */
export interface Cell {
  /** Index of its bar in the line. */
  readonly bar: number;
  /** Place of its first note in the bar's notes. */
  readonly first: number;
  readonly notes: readonly WeighedNote[];
  /** Running-note places in it, and in which of them each note stands. */
  readonly places: number;
  readonly placeOf: readonly number[];
  /** Where it begins and ends, from the bar's start. */
  readonly from: number;
  readonly to: number;
  /** Equal cells have equal keys: same onsets, lengths, pitches. */
  readonly key: string;
  /** The same without the pitch it stands on: transposed repeats have equal shapes. */
  readonly shape: string;
  /** Walks already taken, see `walkCell`. */
  readonly walks: Map<number, Walk>;
}

/** One way to thin a cell: bit i of the mask says that note i stays. */
export interface CellChoice {
  readonly mask: number;
  /** What it costs by itself, the cell before unknown. */
  readonly cost: number;
}

/** What sounds when the next note comes. */
export interface Sounding {
  readonly midi: number;
  /** No plain note was left out since it was struck. */
  readonly adjacent: boolean;
  /** Struck off the pulse. */
  readonly offPulse: boolean;
  /** Struck inside a running-note place, after its start. */
  readonly offPlace: boolean;
}

/** A cell with more notes is cut in two: a mask has 31 bits. */
const MOST_IN_CELL = 24;

/** Cuts a bar into its cells by the grid of its metre. */
export const cellsOf = (weighed: WeighedBar, number: number): readonly Cell[] => {
  const { line, grid, notes } = weighed;
  const cells: Cell[] = [];
  let first = 0;
  for (let from = 0; from < line.length || cells.length === 0; ) {
    const byMetre = Math.min(line.length, from + grid.group - ((line.offset + from) % grid.group));
    const tooMany = notes[first + MOST_IN_CELL];
    const to = tooMany === undefined ? byMetre : Math.min(byMetre, tooMany.at);
    const inside: WeighedNote[] = [];
    for (let note = notes[first]; note !== undefined && note.at < to; note = notes[first + inside.length])
      inside.push(note);
    const { key, shape } = keysOf(weighed, inside, { from, to });
    const places = Math.max(1, Math.round((to - from) / grid.running));
    const placeOf = inside.map(({ at }) => Math.min(places - 1, Math.floor((at - from) / grid.running)));
    cells.push({
      bar: number,
      first,
      notes: inside,
      places,
      placeOf,
      from,
      to,
      key,
      shape,
      walks: new Map(),
    });
    first += inside.length;
    from = Math.max(to, from + 1);
  }
  return cells;
};

const keysOf = (
  weighed: WeighedBar,
  notes: readonly WeighedNote[],
  { from, to }: { readonly from: number; readonly to: number },
): { readonly key: string; readonly shape: string } => {
  const { line, grid } = weighed;
  const frame = `${to - from}/${grid.group}/${(line.offset + from) % grid.group}`;
  const rests = line.rests
    .filter((r) => r.at < to && r.until > from)
    .map((r) => `z${r.at - from}:${r.until - from}`);
  const held = line.carried !== null && line.carried.until > from ? `~${line.carried.midi}` : '';
  const base = notes[0];
  const body = (pitchOf: (note: WeighedNote) => string): string =>
    notes.map((n) => `${n.at - from}:${n.until - from}${n.line.tiedOut ? '-' : ''}${pitchOf(n)}`).join(' ');
  const key = `${frame} ${held} ${rests.join(' ')} ${body((n) => `=${n.midi}`)}`;
  const stepOf = (n: WeighedNote): string => `+${n.line.staffStep - (base?.line.staffStep ?? 0)}`;
  return { key, shape: `${frame} ${rests.join(' ')} ${body(stepOf)}` };
};

/**
 * A figure as a number: a leading 1, then one bit a place, 1 where it is struck; `11011` is crotchet and two quavers.
 */
type FigureCode = number;

const FIGURE_COSTS: ReadonlyMap<FigureCode, number> = new Map(
  Object.entries(FIGURES).map(([figure, cost]) => [Number.parseInt(`1${figure}`, 2), cost]),
);

/** The one figure of a single note in its cell: the dullest, which sparser steps mind less. */
const ONE_NOTE: FigureCode = 0b11000;

/** Which places a mask strikes. */
const figureOf = (cell: Cell, mask: number): FigureCode => {
  let figure = 1 << cell.places;
  for (let i = 0; i < cell.notes.length; i += 1)
    if ((mask & (1 << i)) !== 0) figure |= 1 << (cell.places - 1 - (cell.placeOf[i] as number));
  return figure;
};

/** How many notes a mask strikes beside the first of their places. */
const extraNotes = (cell: Cell, mask: number): number => {
  let extra = 0;
  let place = -1;
  for (let i = 0; i < cell.notes.length; i += 1) {
    if ((mask & (1 << i)) === 0) continue;
    if (cell.placeOf[i] === place) extra += 1;
    place = cell.placeOf[i] as number;
  }
  return extra;
};

const figureTable = (figure: FigureCode, step: DensityStep): number | undefined =>
  figure === ONE_NOTE ? (FIGURE_COSTS.get(figure) ?? 0) * step.dull : FIGURE_COSTS.get(figure);

/** What the rhythm of a thinned cell costs beside the rhythm that the plain version has. */
const figureCost = (cell: Cell, mask: number, at: FigureContext): number => {
  const full = (1 << cell.notes.length) - 1;
  const extra = extraNotes(cell, mask) * (at.snapped ? EXTRA_IN_PLACE_SNAPPED : EXTRA_IN_PLACE);
  if (cell.to - cell.from < at.group) return extra;
  const kept = figureOf(cell, mask);
  const table = figureTable(kept, at.step);
  if (mask === full && at.snapped) return 0;
  const opening = 1 << (cell.places - 1);
  const everyPlace = (1 << (cell.places + 1)) - 1;
  if (mask === full) {
    if (kept === everyPlace) return (extra + (table ?? ODD_RUN_KEPT)) * at.step.runs;
    const known = FIGURE_COSTS.get(kept | opening) ?? STRANGE_FIGURE;
    return extra + (known < STRANGE_FIGURE / 2 ? 0 : ODD_RUN_KEPT);
  }
  const plain = figureOf(cell, full);
  const spoilt = FIGURE_COSTS.get(plain) === 0 ? GOOD_FIGURE_CHANGED * at.step.dull : 0;
  if ((kept & opening) !== 0) return extra + spoilt + (table ?? STRANGE_FIGURE);
  const held = FIGURE_COSTS.get(kept | opening) ?? STRANGE_FIGURE;
  return extra + spoilt + held + ((plain & opening) === 0 ? 0 : HELD_INTO_CELL);
};

interface FigureContext {
  readonly group: number;
  /** Snaps and dots are the dance's character. */
  readonly snapped: boolean;
  readonly step: DensityStep;
}

/** What thinning a cell by a mask costs beside its rhythm, and what sounds at its end. */
export interface Walk {
  readonly cost: number;
  readonly leaving: Sounding | null;
}

/** Room for what sounds before a mask: a MIDI number has 7 bits, three flags and "anything at all" one each. */
const ENTERINGS = 2048;

/** One number for a mask and what sounds before it. */
const walkKey = (mask: number, entering: Sounding | null): number => {
  if (entering === null) return mask * ENTERINGS;
  const flags = (entering.adjacent ? 4 : 0) + (entering.offPulse ? 2 : 0) + (entering.offPlace ? 1 : 0);
  return mask * ENTERINGS + ENTERINGS / 2 + entering.midi * 8 + flags;
};

/**
 * Goes through a cell's notes with a mask: what it costs, what sounds at its end. Every answer is remembered.
 * @param entering - what sounds when the cell begins; null when that is not known or nothing
 */
export const walkCell = (cell: Cell, mask: number, entering: Sounding | null): Walk => {
  const key = walkKey(mask, entering);
  const known = cell.walks.get(key);
  if (known !== undefined) return known;
  const walk = walkAfresh(cell, mask, entering);
  cell.walks.set(key, walk);
  return walk;
};

const walkAfresh = (cell: Cell, mask: number, entering: Sounding | null): Walk => {
  let sounding = entering;
  let cost = 0;
  for (let i = 0; i < cell.notes.length; i += 1) {
    const note = cell.notes[i] as WeighedNote;
    if ((mask & (1 << i)) !== 0) {
      if (sounding !== null) {
        if (!sounding.adjacent) cost += neighbourCost(sounding.midi, note.midi);
        if (sounding.midi === note.midi) {
          if (!note.onPulse) cost += sounding.adjacent ? BAR.repeatedOff : BAR.turnToRepeat;
          else if (!sounding.adjacent && i + 1 < cell.notes.length && mask >> (i + 1) === 0)
            cost += BAR.dullPair;
        }
      }
      const before = cell.notes[i - 1];
      if (before?.place === note.place && (mask & (1 << (i - 1))) === 0) cost += BAR.lateInPlace;
      sounding = { midi: note.midi, adjacent: true, offPulse: !note.onPulse, offPlace: !note.onPlace };
      continue;
    }
    cost += note.drop;
    if (sounding === null) cost += note.dropChanged;
    else {
      if (sounding.midi !== note.midi) cost += note.dropChanged + heldAgainst(sounding.midi, note);
      if (note.onPulse && sounding.offPulse) cost += BAR.syncopation;
      else if (note.onPlace && sounding.offPlace) cost += BAR.lateInPlace;
      if (sounding.adjacent) sounding = { ...sounding, adjacent: false };
    }
  }
  return { cost, leaving: sounding };
};

/** Whether a mask keeps what must stay and no piece of a tuplet but its first note alone or all of it. */
const isAllowed = (cell: Cell, mask: number): boolean => {
  for (let i = 0; i < cell.notes.length; i += 1) {
    const note = cell.notes[i] as WeighedNote;
    const kept = (mask & (1 << i)) !== 0;
    if (note.forced && !kept) return false;
    const from = note.line.tuplet?.from;
    if (from === undefined || note.at === from || !kept) continue;
    const whole = cell.notes.every((n, k) => n.line.tuplet?.from !== from || (mask & (1 << k)) !== 0);
    if (!whole) return false;
  }
  return true;
};

/** The notes of an overfull cell that are left out before the search: the lightest ones. */
const searched = (cell: Cell): number => {
  const full = (1 << cell.notes.length) - 1;
  if (cell.notes.length <= MOST_WEIGHED) return full;
  const order = cell.notes.map((note, i) => ({
    i,
    worth: note.forced ? Number.POSITIVE_INFINITY : note.drop,
  }));
  order.sort((a, b) => b.worth - a.worth);
  return order.slice(0, MOST_WEIGHED).reduce((mask, { i }) => mask | (1 << i), 0);
};

/** What narrows the choice for a cell: notes that another density has already kept or left out. */
export interface Bounds {
  /** Notes that must stay. */
  readonly atLeast: number;
  /** Notes that may stay. */
  readonly atMost: number;
}

/** All allowed ways to thin a cell with their own cost, cheapest first. */
export const choicesFor = (
  cell: Cell,
  context: FigureContext,
  bounds: Bounds | null,
): readonly CellChoice[] => {
  if (cell.notes.length === 0) return [{ mask: 0, cost: 0 }];
  const full = (1 << cell.notes.length) - 1;
  const must = bounds?.atLeast ?? 0;
  const open = (searched(cell) | must) & (bounds?.atMost ?? full);
  const choices: CellChoice[] = [];
  const free = open & ~must;
  for (let part = free; ; part = (part - 1) & free) {
    const mask = part | must;
    if (isAllowed(cell, mask)) {
      const { cost } = walkCell(cell, mask, null);
      choices.push({ mask, cost: cost + figureCost(cell, mask, context) });
    }
    if (part === 0) break;
  }
  if (choices.length === 0) choices.push({ mask: full & (bounds?.atMost ?? full), cost: 0 });
  return choices.sort((a, b) => a.cost - b.cost || a.mask - b.mask);
};
