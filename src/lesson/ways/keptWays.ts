import { equals, type WholeNotes } from '../../core/index.ts';
import { type BarWay, type Event, type Score, type WayPlayed, writtenLengthOf } from '../../score/index.ts';
import { type Anchor, anchorFinder, type BarTable, barTableOf, type Found } from '../anchors/index.ts';
import { eventsOf, type StoredEvent } from '../kept/index.ts';

/** Another way to play a bar of a version, as the lesson keeps it. */
export interface KeptWay {
  readonly anchor: Anchor;
  /** Fingerprint of the plain bar that it was written for, where that has changed since. */
  readonly keptFor?: string | undefined;
  /** Which version of the lesson it is for. */
  readonly version: string;
  readonly played: WayPlayed;
  /** It is printed as a small bar at the foot of the version's sheet. */
  readonly printed: boolean;
  readonly events: readonly StoredEvent[];
}

/** Whether a way is in force; else why not. */
export type WayOutcome =
  | { readonly kind: 'inForce' }
  /** Its bar is gone from the tune. */
  | { readonly kind: 'orphan' }
  /** The lesson has no such version. */
  | { readonly kind: 'noVersion' }
  | { readonly kind: 'wrongLength'; readonly way: WholeNotes; readonly bar: WholeNotes };

/** Another way to play a bar, where that bar is now, and whether it is in force. */
export interface WayState {
  readonly way: KeptWay;
  readonly found: Found;
  /** Its bar is not what it was when this was written. */
  readonly changed: boolean;
  readonly outcome: WayOutcome;
}

interface Version {
  readonly id: string;
  readonly score: Score;
}

/** The notes and rests of a way. */
export const wayEventsOf = ({ events }: Pick<KeptWay, 'events'>): readonly Event[] => eventsOf(events);

const outcomeOf = (way: KeptWay, found: Found, versions: readonly Version[]): WayOutcome => {
  const version = versions.find(({ id }) => id === way.version);
  if (version === undefined) return { kind: 'noVersion' };
  if (found.kind === 'orphan') return { kind: 'orphan' };
  const { part, bar: at } = found.anchor;
  const bar = version.score.parts.find(({ label }) => label === part)?.bars[at];
  if (bar === undefined) return { kind: 'orphan' };
  const length = writtenLengthOf({ ...bar, events: eventsOf(way.events) });
  const wanted = writtenLengthOf(bar);
  return equals(length, wanted) ? { kind: 'inForce' } : { kind: 'wrongLength', way: length, bar: wanted };
};

const wayOf = ({ way }: WayState): BarWay => ({
  events: eventsOf(way.events),
  played: way.played,
  printed: way.printed,
});

/** A version's score, its bars with the other ways to play them. */
const withWays = (score: Score, states: readonly WayState[]): Score => ({
  ...score,
  parts: score.parts.map((part) => ({
    ...part,
    bars: part.bars.map((bar, at) => {
      const here = states.filter(
        ({ found }) => found.kind !== 'orphan' && found.anchor.part === part.label && found.anchor.bar === at,
      );
      return here.length === 0 ? bar : { ...bar, ways: here.map(wayOf) };
    }),
  })),
});

/**
 * The teacher's other ways to play bars, at their bars in the versions of a lesson.
 *
 * Each bar is looked for by its anchor. What cannot be in force is left out, and told; nothing is dropped.
 * @param plain - the version that anchors speak of
 * @returns any of the versions with its ways, and a state for each way in its order
 */
export const placeWays = <V extends Version>(
  versions: readonly V[],
  plain: Score,
  { ways, barTable }: { readonly ways: readonly KeptWay[]; readonly barTable: BarTable | null },
): { readonly waysIn: (version: V) => V; readonly states: readonly WayState[] } => {
  if (ways.length === 0) return { waysIn: (version) => version, states: [] };
  const find = anchorFinder(barTable, barTableOf(plain));
  const states = ways.map((way): WayState => {
    const found = find(way.anchor);
    const changed = found.kind !== 'orphan' && found.anchor.plain !== (way.keptFor ?? way.anchor.plain);
    return { way, found, changed, outcome: outcomeOf(way, found, versions) };
  });
  const inForce = states.filter(({ outcome }) => outcome.kind === 'inForce');
  return {
    waysIn: (version) => {
      const own = inForce.filter(({ way }) => way.version === version.id);
      return own.length === 0 ? version : { ...version, score: withWays(version.score, own) };
    },
    states,
  };
};
