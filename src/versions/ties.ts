import { isSamePitch } from '../music/index.ts';
import { type Bar, barsOf, type Event, type Score } from '../score/index.ts';

interface Placed {
  readonly event: Event;
  readonly bar: Bar;
  readonly part: string;
}

/** Whether a bar line only parts two bars: no repeat, ending or new part, after which a tie may lead elsewhere. */
const goesStraightOn = (here: Placed, next: Placed): boolean =>
  here.bar === next.bar ||
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
  const placed = barsOf(score).flatMap(({ bar, part }) =>
    bar.events.map((event): Placed => ({ event, bar, part })),
  );
  const untied = new Set<Event>();
  placed.forEach((here, i) => {
    if (here.event.kind === 'note' && here.event.tiedToNext && !leadsOn(here, placed[i + 1]))
      untied.add(here.event);
  });
  if (untied.size === 0) return score;
  const mended = (event: Event): Event =>
    event.kind === 'note' && untied.has(event) ? { ...event, tiedToNext: false } : event;
  const parts = score.parts.map((part) => ({
    ...part,
    bars: part.bars.map((bar) => ({ ...bar, events: bar.events.map(mended) })),
  }));
  return { ...score, parts };
};
