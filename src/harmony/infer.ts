import { add, asWholeNotes } from '../core/index.ts';
import { chromaOf } from '../music/index.ts';
import type { Score } from '../score/index.ts';
import { triadsOfLikeBars } from './alike.ts';
import { bestPath, type Judgement } from './bestPath.ts';
import { type Cell, cellsOf } from './cells.ts';
import type { ChordPlan, PlannedChord } from './chordPlan.ts';
import type { Family } from './counts.ts';
import { CHORD_COUNTS } from './data.ts';
import { type ChordModel, melodySuits, modelFrom, placeSuits, stepBetween } from './model.ts';
import { thirdIsDoubtful } from './thirds.ts';
import { soundingTimes, type Tonality } from './tonality.ts';
import { chordOf, roleOf, type TriadClass, triadClass, vocabularyOf } from './vocabulary.ts';

/**
 * What a change inside a bar costs beside what the counted tunes say, by where the bar stands: seldom but at a cadence.
 * @see Common practice: one chord a bar, half bars at cadences. Ours: the figures
 */
const INSIDE_BAR = { cadence: 0, elsewhere: 1.5 } as const;

/** What v costs in a mode where ♭VII does the same: guitarists reach for the major chord first. Ours. */
const MINOR_DOMINANT = 0.3;

/**
 * How much the counted steps and places weigh in a mode that the counted tunes hardly have: there the melody leads.
 * @see Ours: by reading modal tunes of O'Neill 1903 with their chords
 */
const BORROWED_CONTEXT = 0.5;

/** What a triad gains that other bars with the same melody have. Ours: tuned on the shared Nottingham half. */
const LIKE_BAR = 2;

/** The leading note, in semitones above the keynote. */
const LEADING_NOTE = 11;

/** What a tonality means for the tune at hand. */
interface Setting {
  readonly tonality: Tonality;
  readonly family: Family;
  /** How long each note 0…11 above the keynote sounds in the tune. */
  readonly sounding: readonly number[];
  /** Whether the tune sounds the leading note. */
  readonly raised: boolean;
  readonly triads: readonly TriadClass[];
  /** Whether the counted tunes of the family are tunes of this kind. */
  readonly counted: boolean;
}

const FAMILY: Readonly<Record<Tonality['mode'], Family>> = {
  major: 'major',
  mixolydian: 'major',
  lydian: 'major',
  minor: 'minor',
  dorian: 'minor',
  phrygian: 'minor',
  locrian: 'minor',
};

const settingOf = (tonality: Tonality, times: readonly number[]): Setting => {
  const tonic = chromaOf(tonality.tonic);
  const sounding = times.map((_, i) => times[(i + tonic) % 12] ?? 0);
  const raised = (sounding[LEADING_NOTE] ?? 0) > 0;
  return {
    tonality,
    family: FAMILY[tonality.mode],
    sounding,
    raised,
    counted: tonality.mode === 'major' || (tonality.mode === 'minor' && raised),
    triads: vocabularyOf(tonality.mode, sounding),
  };
};

let made: ChordModel | null = null;
/** The model, made from its counts when first needed. */
const chordModel = (): ChordModel => {
  made ??= modelFrom(CHORD_COUNTS);
  return made;
};

const changeInside = (model: ChordModel, cell: Cell): number => {
  const cadence = cell.place !== 'inside' && cell.place !== 'first';
  return model.bars[cell.place].changes - (cadence ? INSIDE_BAR.cadence : INSIDE_BAR.elsewhere);
};

const stepIn = (model: ChordModel, at: Setting, before: TriadClass | null, triad: TriadClass): number => {
  const role = (t: TriadClass): TriadClass => roleOf(at.tonality.mode, t, at.raised);
  const step = stepBetween(model, at.family, before === null ? null : role(before), role(triad));
  return at.counted ? step : BORROWED_CONTEXT * step;
};

const followsIn = (
  model: ChordModel,
  cell: Cell,
  at: Setting,
  before: TriadClass,
  triad: TriadClass,
): number => {
  if (cell.opensBar) return stepIn(model, at, before, triad);
  if (before === triad) return model.bars[cell.place].keeps;
  return changeInside(model, cell) + stepIn(model, at, before, triad);
};

const suitsIn = (model: ChordModel, cell: Cell, at: Setting, triad: TriadClass): number => {
  const { mode } = at.tonality;
  const reluctance = mode !== 'major' && triad === triadClass(7, true) ? MINOR_DOMINANT : 0;
  const melody = melodySuits(model, at.family, cell, triad, at.counted) - reluctance;
  if (!cell.opensBar) return melody;
  const place = placeSuits(model, at.family, cell, roleOf(mode, triad, at.raised));
  return melody + (at.counted ? place : BORROWED_CONTEXT * place);
};

/** A tune's cells, each with its setting and the triad found for it. */
export interface FoundTriad {
  readonly cell: Cell;
  readonly triad: TriadClass;
  readonly sounding: readonly number[];
}

/** How triads suit the cells and follow each other. */
const judgementOf = (cells: readonly Cell[], settings: readonly Setting[], model: ChordModel): Judgement => {
  const suiting = cells.map((cell, i) => {
    const at = settings[i];
    return new Map(at?.triads.map((triad) => [triad, suitsIn(model, cell, at, triad)]));
  });
  return {
    choices: settings.map((setting) => setting.triads),
    suits: (i, triad) => suiting[i]?.get(triad) ?? 0,
    follows: (i, before, triad) => {
      const [cell, at] = [cells[i], settings[i]];
      if (cell === undefined || at === undefined) return 0;
      const goesOn = before !== null && settings[i - 1] === at;
      if (goesOn) return followsIn(model, cell, at, before, triad);
      return stepIn(model, at, null, triad);
    },
  };
};

/**
 * Which triad goes with each half bar of a tune?
 * @param model - the chord model; the house's own unless a measurement brings one that has not seen the tune
 */
export const foundTriads = (score: Score, model: ChordModel = chordModel()): readonly FoundTriad[] => {
  const cells = cellsOf(score);
  const times = soundingTimes(score);
  const known = new Map<string, Setting>();
  const settings = cells.map(({ tonality }): Setting => {
    const name = `${chromaOf(tonality.tonic)} ${tonality.mode}`;
    const setting = known.get(name) ?? settingOf(tonality, times);
    known.set(name, setting);
    return setting;
  });
  const judged = judgementOf(cells, settings, model);
  const first = bestPath(judged);
  const like = triadsOfLikeBars(cells, first);
  const path = bestPath({
    ...judged,
    suits: (i, triad) => judged.suits(i, triad) + (like[i] === triad ? LIKE_BAR : 0),
  });
  return cells.map((cell, i) => ({ cell, triad: path[i] ?? 0, sounding: settings[i]?.sounding ?? [] }));
};

/** Neighbouring cells of one bar with one triad. */
interface Stretch {
  readonly cells: readonly [Cell, ...Cell[]];
  readonly triad: TriadClass;
  readonly sounding: readonly number[];
}

const stretchesOf = (found: readonly FoundTriad[]): readonly Stretch[] => {
  const stretches: Stretch[] = [];
  for (const { cell, triad, sounding } of found) {
    const last = stretches.at(-1);
    const first = last?.cells[0];
    const joins = first?.part === cell.part && first.bar === cell.bar && last?.triad === triad;
    if (last !== undefined && joins)
      stretches[stretches.length - 1] = { ...last, cells: [...last.cells, cell] };
    else stretches.push({ cells: [cell], triad, sounding });
  }
  return stretches;
};

const plannedFrom = ({ cells, triad, sounding }: Stretch): PlannedChord => {
  const [{ part, bar, onset, tonality }] = cells;
  const notes = cells.flatMap((cell) => cell.notes);
  const bare = thirdIsDoubtful(triad, tonality.mode, notes, sounding);
  const length = cells.map((cell) => cell.length).reduce((a, b) => asWholeNotes(add(a, b)));
  return { part, bar, onset, length, chord: chordOf(triad, tonality, bare), source: 'inferred' };
};

/**
 * Which chords would a backing player put under this melody?
 * @returns one chord a bar, two where the second half of a bar at a cadence asks for it; nothing for pick-ups
 */
export const inferredChords = (score: Score): ChordPlan => stretchesOf(foundTriads(score)).map(plannedFrom);
