import { isSamePitch } from '../music/index.ts';
import { type Bar, barsOf, type Event, type Score } from '../score/index.ts';

/** Which bar something is in. */
interface InBar {
  readonly bar: Bar;
  /** Place of its bar in the tune. */
  readonly number: number;
  readonly part: string;
}

interface Placed extends InBar {
  readonly event: Event;
}

/** Whether a bar line only parts two bars: no repeat, ending or new part, after which a tie may lead elsewhere. */
export const goesStraightOn = (here: InBar, next: InBar): boolean =>
  here.number === next.number ||
  (here.part === next.part &&
    here.bar.repeatEnd === 0 &&
    next.bar.repeatStart === 0 &&
    next.bar.ending === null);

const leadsOn = (here: Placed, next: Placed | undefined): boolean => {
  if (next === undefined || !goesStraightOn(here, next)) return true;
  if (here.event.kind !== 'note' || next.event.kind !== 'note') return false;
  return isSamePitch(here.event.pitches[0], next.event.pitches[0]);
};

/**
 * The score without ties that lead from the melody's note to another pitch or a rest.
 *
 * Old prints set a tie where a slur is meant; whoever counts a tied note as held would miss the note that it leads to.
 * At repeats, endings and ends of parts a tie may lead to another bar than the next written one, and stays.
 */
export const withTrueTies = (score: Score): Score => {
  const placed = barsOf(score).flatMap(({ bar, part }, number) =>
    bar.events.map((event): Placed => ({ event, bar, number, part })),
  );
  const events = placed.map((here, i): Event => {
    const { event } = here;
    const isFalse = event.kind === 'note' && event.tiedToNext && !leadsOn(here, placed[i + 1]);
    return isFalse ? { ...event, tiedToNext: false } : event;
  });
  if (events.every((event, i) => event === placed[i]?.event)) return score;
  let from = 0;
  const parts = score.parts.map((part) => {
    const bars = part.bars.map((bar) => {
      const own = events.slice(from, from + bar.events.length);
      from += bar.events.length;
      return { ...bar, events: own };
    });
    return { ...part, bars };
  });
  return { ...score, parts };
};
