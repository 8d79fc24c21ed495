import type { Alignment, Match } from './align.ts';
import type { HeardNote } from './hear.ts';
import type { Section, WrittenTune } from './written.ts';

/** A bar as it was played. */
export interface FollowedBar {
  /** Printed number; null for a pick-up. */
  readonly number: number | null;
  readonly part: string;
  /** Index among the part's written bars. */
  readonly index: number;
  /** How often the part has been played before, from 0. */
  readonly pass: number;
  readonly start: number;
  /** Quavers that it is written with. */
  readonly quavers: number;
  /** Seconds of a quaver in it. */
  readonly pace: number;
}

/** One round of a section, as matched. */
interface Round {
  readonly section: Section;
  readonly pass: number;
  readonly matches: readonly Match[];
}

const roundsOf = (alignment: Alignment, tune: WrittenTune): readonly Round[] => {
  const rounds: { section: Section; pass: number; matches: Match[] }[] = [];
  const passes = new Map<string, number>();
  for (const match of alignment.matches) {
    const section = tune.sections[match.section] as Section;
    const last = rounds.at(-1);
    const back = last !== undefined && match.note <= (last.matches.at(-1)?.note ?? -1);
    if (last === undefined || last.section !== section || match.entered || back) {
      const pass = passes.get(section.part) ?? 0;
      passes.set(section.part, pass + 1);
      rounds.push({ section, pass, matches: [match] });
    } else last.matches.push(match);
  }
  return rounds;
};

/** A time and the place in quavers that it belongs to. */
interface Anchor {
  readonly at: number;
  readonly time: number;
}

const anchorsOf = (round: Round, heard: readonly HeardNote[]): readonly Anchor[] =>
  round.matches.map((m) => ({
    at: round.section.notes[m.note]?.at ?? 0,
    time: heard[m.heard]?.start ?? 0,
  }));

/** Anchors so far about a place tell the tempo there, quavers. */
const AROUND = 9;

/** Seconds of a quaver about a place: the middle of what pairs of near anchors say. */
const paceAbout = (anchors: readonly Anchor[], at: number, usual: number): number => {
  const near = anchors.filter((a) => Math.abs(a.at - at) <= AROUND);
  const paces = near.flatMap((a) =>
    near.flatMap((b) =>
      b.at - a.at >= 2 && b.at - a.at <= AROUND ? [(b.time - a.time) / (b.at - a.at)] : [],
    ),
  );
  return paces.sort((a, b) => a - b)[Math.floor(paces.length / 2)] ?? usual;
};

/** When a place sounds: at its own anchor, or reckoned from the nearest with the tempo there. */
const timeAt = (anchors: readonly Anchor[], at: number, usual: number): number => {
  const exact = anchors.find((a) => Math.abs(a.at - at) < 1e-6);
  if (exact !== undefined) return exact.time;
  const before = anchors.findLast((a) => a.at < at);
  const after = anchors.find((a) => a.at > at);
  if (before !== undefined && after !== undefined) {
    const pace = (after.time - before.time) / (after.at - before.at);
    if (pace > 0.6 * usual && pace < 1.7 * usual) return before.time + (at - before.at) * pace;
  }
  const pace = paceAbout(anchors, at, usual);
  // After a stop the bar belongs to what follows.
  if (after !== undefined) return after.time - (after.at - at) * pace;
  return (before?.time ?? 0) + (at - (before?.at ?? 0)) * pace;
};

/** A round counts when this share of its notes was matched, or this many in a row. */
const LEAST_SHARE = 0.25;
const LEAST_MATCHES = 6;

/** The rounds that were really played: a few stray matches are none. */
const realRounds = (alignment: Alignment, tune: WrittenTune): readonly Round[] =>
  roundsOf(alignment, tune).filter(
    (r) => r.matches.length >= LEAST_MATCHES || r.matches.length >= LEAST_SHARE * r.section.notes.length,
  );

/**
 * The bars of a recording that follows a tune, with their times.
 * @param pace - seconds of a quaver over the whole recording
 */
export const followedBars = (
  alignment: Alignment,
  tune: WrittenTune,
  heard: readonly HeardNote[],
  pace: number,
): readonly FollowedBar[] => {
  const rounds = realRounds(alignment, tune);
  return rounds.flatMap((round) => {
    const { section } = round;
    const anchors = anchorsOf(round, heard);
    const first = section.notes[round.matches[0]?.note ?? 0]?.bar ?? 0;
    const last = section.notes[round.matches.at(-1)?.note ?? 0]?.bar ?? 0;
    return section.bars.slice(first, last + 1).map((bar, i) => ({
      number: bar.number,
      part: section.part,
      index: bar.index,
      pass: round.pass,
      start: timeAt(anchors, bar.at, pace),
      quavers: (section.bars[first + i + 1]?.at ?? section.length) - bar.at,
      pace: paceAbout(anchors, bar.at + 4, pace),
    }));
  });
};

/** The parts in the order in which they were played: "AABB AABB". */
export const playedForm = (alignment: Alignment, tune: WrittenTune): string =>
  realRounds(alignment, tune)
    .map((r) => r.section.part)
    .join('');
