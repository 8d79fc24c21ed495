import { fingerprintOf, type Score } from '../../score/index.ts';
import { type BarToKeep, type KeptVerdict, withKeptBars } from '../../versions/index.ts';
import { type Anchor, anchorFinder, type BarTable, barTableOf, type Found } from '../anchors/index.ts';
import { eventsOf, type StoredEvent } from './keptEvents.ts';

/** A bar of the bones that the teacher has written or chosen: it stays when the rest is made anew. */
export interface KeptBar {
  readonly anchor: Anchor;
  /** Fingerprint of the plain bar that it was kept for, where that has changed since. */
  readonly keptFor?: string | undefined;
  /** Which version of the lesson it is for. */
  readonly version: string;
  /** It stands for all bars that are equal in the plain version, not for its own alone. */
  readonly everywhere?: boolean | undefined;
  readonly events: readonly StoredEvent[];
}

/** What is attached to the bars of a lesson's tune, and the bars as they were then. */
export interface Attached {
  readonly keptBars: readonly KeptBar[];
  /** Null where nobody wrote the bars down. */
  readonly barTable: BarTable | null;
}

/** What has become of a kept bar. */
export type KeptOutcome =
  | KeptVerdict
  /** Its bar is gone from the tune. */
  | { readonly kind: 'orphan' }
  /** The lesson has no such version, or one that is not derived. */
  | { readonly kind: 'noVersion' }
  /** Another one, further up in the list, has been kept for the same bar. */
  | { readonly kind: 'doubled' };

/** A kept bar, where it belongs now, and whether it is in force. */
export interface KeptState {
  readonly kept: KeptBar;
  readonly found: Found;
  /** Its bar is not what it was when this was kept. */
  readonly changed: boolean;
  readonly outcome: KeptOutcome;
}

/** A version of a lesson; those of the bones may have kept bars. */
interface Version {
  readonly id: string;
  readonly kind: string;
  readonly score: Score;
}

const placeKey = (at: { readonly part: string; readonly bar: number }): string => `${at.part}/${at.bar}`;

/** Bars that sound the same in the plain version, its own left out. */
const equalBars = (
  plain: Score,
  anchor: Anchor,
): readonly { readonly part: string; readonly bar: number }[] =>
  plain.parts.flatMap(({ label, bars }) =>
    bars.flatMap((bar, i) => {
      const own = label === anchor.part && i === anchor.bar;
      return !own && fingerprintOf(bar) === anchor.plain ? [{ part: label, bar: i }] : [];
    }),
  );

interface Placed {
  readonly state: number;
  readonly toKeep: BarToKeep;
}

/** Which bars one version's kept ones are put into: their own first, then equal bars that nobody has kept. */
const placesFor = (states: readonly KeptState[], id: string, plain: Score): readonly Placed[] => {
  const own = states.flatMap(
    ({ kept, found, outcome }, state): readonly (Placed & { readonly anchor: Anchor })[] =>
      kept.version !== id || found.kind === 'orphan' || outcome.kind !== 'inForce'
        ? []
        : [{ state, anchor: found.anchor, toKeep: { ...found.anchor, events: eventsOf(kept.events) } }],
  );
  const taken = new Set(own.map(({ toKeep }) => placeKey(toKeep)));
  const others = own.flatMap(({ state, anchor, toKeep }) =>
    states[state]?.kept.everywhere !== true
      ? []
      : equalBars(plain, anchor).flatMap((at): readonly Placed[] => {
          if (taken.has(placeKey(at))) return [];
          taken.add(placeKey(at));
          return [{ state, toKeep: { ...toKeep, ...at } }];
        }),
  );
  return [...own, ...others];
};

const startOf = (
  kept: KeptBar,
  find: (anchor: Anchor) => Found,
  known: { readonly ids: ReadonlySet<string>; readonly taken: Set<string> },
): KeptState => {
  const found = find(kept.anchor);
  const changed = found.kind !== 'orphan' && found.anchor.plain !== (kept.keptFor ?? kept.anchor.plain);
  const state = { kept, found, changed };
  if (!known.ids.has(kept.version)) return { ...state, outcome: { kind: 'noVersion' } };
  if (found.kind === 'orphan') return { ...state, outcome: { kind: 'orphan' } };
  const place = `${kept.version} ${placeKey(found.anchor)}`;
  if (known.taken.has(place)) return { ...state, outcome: { kind: 'doubled' } };
  known.taken.add(place);
  return { ...state, outcome: { kind: 'inForce', clashes: [], newOnsets: [] } };
};

/**
 * The teacher's kept bars in their places in the bones of a lesson.
 *
 * Each bar is looked for by its anchor first. What cannot be in force is left out, and told; nothing is dropped.
 * @param versions - all versions of the lesson
 * @param plain - the version that the bones were derived from
 * @returns any of the versions with its kept bars, and a state for each kept bar in its order
 */
export const keepBars = <V extends Version>(
  versions: readonly V[],
  plain: Score,
  { keptBars, barTable }: Attached,
): { readonly keptIn: (version: V) => V; readonly states: readonly KeptState[] } => {
  if (keptBars.length === 0) return { keptIn: (version) => version, states: [] };
  const bones = versions.filter(({ kind }) => kind === 'bones');
  const find = anchorFinder(barTable, barTableOf(plain));
  const known = { ids: new Set(bones.map(({ id }) => id)), taken: new Set<string>() };
  const states = keptBars.map((kept) => startOf(kept, find, known));
  const outcomes = states.map(({ outcome }) => outcome);
  const scores = new Map<string, Score>();
  for (const { id, score } of bones) {
    const places = placesFor(states, id, plain);
    const bars = places.map(({ toKeep }) => toKeep);
    const made = withKeptBars(score, plain, bars);
    scores.set(id, made.score);
    places.forEach(({ state }, i) => {
      outcomes[state] = together(outcomes[state], made.verdicts[i]);
    });
  }
  return {
    keptIn: (version) => ({ ...version, score: scores.get(version.id) ?? version.score }),
    states: states.map((state, i) => ({ ...state, outcome: outcomes[i] ?? state.outcome })),
  };
};

/** The verdict on a kept bar in one more place. */
const together = (first: KeptOutcome | undefined, second: KeptVerdict | undefined): KeptOutcome => {
  if (second === undefined) return first ?? { kind: 'noBar' };
  if (first?.kind !== 'inForce' || second.kind !== 'inForce') return second;
  const known = new Set(first.newOnsets.map(({ num, den }) => `${num}/${den}`));
  return {
    kind: 'inForce',
    clashes: [...first.clashes, ...second.clashes],
    newOnsets: [
      ...first.newOnsets,
      ...second.newOnsets.filter(({ num, den }) => !known.has(`${num}/${den}`)),
    ],
  };
};
