import { formatRational } from '../core/index.ts';
import { type OrnamentKind, ornamentsInHand, ornamentsOf, type StringName } from '../fiddle/index.ts';
import type { Bow, Finger, Score } from '../score/index.ts';
import type { Versions } from './deriveVersions.ts';
import { lineOf } from './line.ts';

/** What the versions of a tune hold, for report.json and the teacher's notes. */
export interface VersionReport {
  /** Struck notes of each version, tied ones counted once. */
  readonly notes: { readonly bones: number; readonly plain: number; readonly full: number };
  /** Bones notes for each plain note. */
  readonly density: number;
  readonly bars: readonly {
    readonly part: string;
    /** Index among the part's written bars. */
    readonly bar: number;
    /** Printed number; null for pick-ups and rests of bars. */
    readonly number: number | null;
    readonly strokes: { readonly bones: number; readonly plain: number; readonly full: number };
  }[];
  /** The ornaments of the full version, as the hands make them. */
  readonly ornaments: readonly {
    readonly kind: OrnamentKind;
    readonly part: string;
    /** Index among the part's written bars. */
    readonly bar: number;
    /** From the start of the bar, in whole notes: "3/8". */
    readonly onset: string;
    /** How many notes it takes up. */
    readonly notes: number;
    /** Of its first note; null where no string has it. */
    readonly string: StringName | null;
    readonly finger: Finger | null;
    /** The fingers that flick, in order. */
    readonly flicks: readonly (Finger | null)[];
    /** Strokes that begin in it. */
    readonly strokes: readonly Bow[];
  }[];
  readonly leftOut: {
    /** Ornaments of the full version that the plain one has not got, by name. */
    readonly ornaments: Partial<Readonly<Record<OrnamentKind, number>>>;
    /** Plain notes that the bones have not got. */
    readonly plainNotes: number;
  };
}

const countOrnaments = (score: Score): ReadonlyMap<OrnamentKind, number> => {
  const counts = new Map<OrnamentKind, number>();
  for (const { kind } of ornamentsOf(score)) counts.set(kind, (counts.get(kind) ?? 0) + 1);
  return counts;
};

const ornamentsOfReport = (full: Score): VersionReport['ornaments'] =>
  ornamentsInHand(full).map(({ ornament, notes, flicks, strokes }) => ({
    kind: ornament.kind,
    part: ornament.address.part,
    bar: ornament.address.bar,
    onset: formatRational(ornament.address.onset),
    notes: ornament.events,
    string: notes[0].string,
    finger: notes[0].finger,
    flicks: flicks.map((flick) => flick.moves),
    strokes,
  }));

/** What is in each version, and what was left out on the way. */
export const reportOf = (versions: Versions): VersionReport => {
  const { bones, plain, full } = versions;
  const lines = { bones: lineOf(bones), plain: lineOf(plain), full: lineOf(full) };
  const count = (line: (typeof lines)['bones']): number =>
    line.bars.reduce((total, bar) => total + bar.notes.length, 0);
  const notes = { bones: count(lines.bones), plain: count(lines.plain), full: count(lines.full) };
  const kept = countOrnaments(plain);
  const ornaments: Partial<Record<OrnamentKind, number>> = {};
  for (const [kind, number] of countOrnaments(full)) {
    const gone = number - (kept.get(kind) ?? 0);
    if (gone > 0) ornaments[kind] = gone;
  }
  return {
    notes,
    density: notes.plain === 0 ? 1 : notes.bones / notes.plain,
    bars: lines.plain.bars.map(({ part, index, bar, notes: struck }, i) => ({
      part,
      bar: index,
      number: bar.number,
      strokes: {
        bones: lines.bones.bars[i]?.notes.length ?? 0,
        plain: struck.length,
        full: lines.full.bars[i]?.notes.length ?? 0,
      },
    })),
    ornaments: ornamentsOfReport(full),
    leftOut: { ornaments, plainNotes: notes.plain - notes.bones },
  };
};
