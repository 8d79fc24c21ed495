import { isSamePitch } from '../../music/index.ts';
import { barsOf, type Event, type Score } from '../../score/index.ts';

/** Ties and slurs that begin or end at an event. */
export interface EventSpans {
  /** For each pitch, whether a tie arrives at it, leaves from it. */
  readonly tieStops: readonly boolean[];
  readonly tieStarts: readonly boolean[];
  /** Numbers of the slurs that end, begin here; slurs that are open together have different numbers. */
  readonly slurStops: readonly number[];
  readonly slurStarts: readonly number[];
}

interface Draft {
  readonly event: Event;
  readonly tieStops: boolean[];
  readonly tieStarts: boolean[];
  readonly slurStops: number[];
  readonly slurStarts: number[];
}

/** Source: MusicXML 4.0, simple type number-level: 1 to 16. */
const SLUR_NUMBERS = Array.from({ length: 16 }, (_, i) => i + 1);

const pitchesOf = (event: Event) => (event.kind === 'note' ? event.pitches : []);

/** Marks a tie at both its ends, and only where the next event has the pitch. */
const markTies = (drafts: readonly Draft[]): void => {
  drafts.forEach((draft, i) => {
    const next = drafts[i + 1];
    if (draft.event.kind !== 'note' || !draft.event.tiedToNext || next === undefined) return;
    draft.event.pitches.forEach((pitch, tone) => {
      const target = pitchesOf(next.event).findIndex((p) => isSamePitch(p, pitch));
      if (target < 0 || next.tieStops[target] === true) return;
      draft.tieStarts[tone] = true;
      next.tieStops[target] = true;
    });
  });
};

/**
 * Pairs slurs like brackets: what closes at a note closes slurs from before it, the latest first, then what opens there
 * opens (a slur may end and another begin on one note; ABC standard 2.1, section 4.11). What has no partner is left out.
 */
const markSlurs = (drafts: readonly Draft[]): void => {
  const open: { readonly from: Draft; readonly number: number }[] = [];
  for (const draft of drafts) {
    if (draft.event.kind !== 'note') continue;
    const { opens, closes } = draft.event.slurs;
    const taken = new Set(open.map((o) => o.number));
    for (let n = 0; n < closes; n += 1) {
      const slur = open.pop();
      if (slur === undefined) break;
      slur.from.slurStarts.push(slur.number);
      draft.slurStops.push(slur.number);
    }
    for (let n = 0; n < opens; n += 1) {
      const number = SLUR_NUMBERS.find((k) => !taken.has(k));
      if (number === undefined) break;
      taken.add(number);
      open.push({ from: draft, number });
    }
  }
};

/**
 * Answers "which ties and slurs begin and end at each event?", by bar and event, in written order over the whole tune.
 *
 * Every start has its stop. Events without length count for nothing.
 */
export const spansOf = (score: Score): readonly (readonly EventSpans[])[] => {
  const byBar = barsOf(score).map(({ bar }) =>
    bar.events.map(
      (event): Draft => ({
        event,
        tieStops: pitchesOf(event).map(() => false),
        tieStarts: pitchesOf(event).map(() => false),
        slurStops: [],
        slurStarts: [],
      }),
    ),
  );
  const sounding = byBar.flat().filter(({ event }) => event.length.num > 0);
  markTies(sounding);
  markSlurs(sounding);
  return byBar;
};
