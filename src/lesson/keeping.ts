import type { Event } from '../score/index.ts';
import type { AcceptedEntry } from './acceptedOrnaments.ts';
import { anchorAt, anchoredNow, barTableOf, reAnchored } from './anchors/index.ts';
import { type Attached, type KeptBar, type KeptState, storedEvents, storedWhole } from './kept/index.ts';
import type { Lesson } from './lesson.ts';
import { isSamePlace, type StayDownChoice } from './stayDownChoices.ts';
import type { KeptWay } from './ways/index.ts';

/** With its anchor as it is now; a bar that has changed is remembered as it was. */
const asNow = <T extends KeptBar | KeptWay>(
  thing: T,
  { found, changed }: Pick<KeptState, 'found' | 'changed'>,
): T => {
  if (found.kind === 'orphan') return thing;
  const { keptFor = thing.anchor.plain, ...now } = reAnchored(thing, found);
  return (changed ? { ...now, keptFor } : now) as T;
};

/** Everything that is attached to bars: one table of bars serves it all. */
export type AllAttached = Attached & {
  readonly acceptedOrnaments: readonly AcceptedEntry[];
  readonly ways: readonly KeptWay[];
  readonly stayDownChoices: readonly StayDownChoice[];
};

/** What is attached to a lesson's bars, anchored to the tune as it is now: to be stored when the lesson is saved. */
export const attachedOf = (lesson: Lesson): AllAttached => ({
  keptBars: lesson.kept.map((state) => asNow(state.kept, state)),
  ways: lesson.ways.map((state) => asNow(state.way, state)),
  acceptedOrnaments: anchoredNow(
    lesson.settings.acceptedOrnaments,
    lesson.settings.barTable,
    lesson.versions.plain,
  ),
  stayDownChoices: lesson.stayDownChoices,
  barTable: barTableOf(lesson.versions.plain),
});

/** A bar to keep and where. */
export interface NewKeptBar {
  readonly version: string;
  readonly part: string;
  /** Index among the part's written bars. */
  readonly bar: number;
  readonly events: readonly Event[];
  /** For all bars that are equal in the plain version. */
  readonly everywhere: boolean;
}

/**
 * A lesson's attachments with one more kept bar; it takes the place of the one that was kept there before.
 * @throws RangeError when the tune has no such bar
 */
export const withKeptBar = (lesson: Lesson, one: NewKeptBar): AllAttached => {
  const anchor = anchorAt(lesson.versions.plain, one.part, one.bar);
  if (anchor === null) throw new RangeError(`the tune has no bar ${one.part}/${one.bar}`);
  const attached = attachedOf(lesson);
  const { keptBars } = attached;
  const others = keptBars.filter((kept, i) => {
    const there = lesson.kept[i]?.found.kind !== 'orphan' && kept.version === one.version;
    return !(there && kept.anchor.part === one.part && kept.anchor.bar === one.bar);
  });
  const kept: KeptBar = {
    version: one.version,
    anchor,
    ...(one.everywhere ? { everywhere: true } : {}),
    events: storedEvents(one.events),
  };
  return { ...attached, keptBars: [...others, kept] };
};

/** A lesson's attachments without the kept bar at that place of the list. */
export const withoutKeptBar = (lesson: Lesson, index: number): AllAttached => {
  const attached = attachedOf(lesson);
  return { ...attached, keptBars: attached.keptBars.filter((_, i) => i !== index) };
};

/** Another way to play a bar, and where. */
export interface NewWay extends Pick<KeptWay, 'version' | 'played' | 'printed'> {
  readonly part: string;
  /** Index among the part's written bars. */
  readonly bar: number;
  readonly events: readonly Event[];
}

/** The ways with that one played as it says: another of its bar and version that was played then is so no more. */
const alonePlayed = (ways: readonly KeptWay[], index: number): readonly KeptWay[] => {
  const one = ways[index];
  if (one === undefined || one.played === 'never') return ways;
  return ways.map((way, i) => {
    const rival = way.version === one.version && way.played === one.played;
    const sameBar = way.anchor.part === one.anchor.part && way.anchor.bar === one.anchor.bar;
    return i !== index && rival && sameBar ? { ...way, played: 'never' } : way;
  });
};

/**
 * A lesson's attachments with one more way to play a bar, the last of its bar.
 * @throws RangeError when the tune has no such bar
 */
export const withWay = (lesson: Lesson, { part, bar, events, ...rest }: NewWay): AllAttached => {
  const anchor = anchorAt(lesson.versions.plain, part, bar);
  if (anchor === null) throw new RangeError(`the tune has no bar ${part}/${bar}`);
  const attached = attachedOf(lesson);
  const ways = [...attached.ways, { ...rest, anchor, events: storedWhole(events) }];
  return { ...attached, ways: alonePlayed(ways, ways.length - 1) };
};

/** A lesson's attachments with a way played or printed otherwise, or without it. */
export const withWayChanged = (
  lesson: Lesson,
  index: number,
  change: Partial<Pick<KeptWay, 'played' | 'printed'>> | null,
): AllAttached => {
  const attached = attachedOf(lesson);
  const ways = attached.ways.flatMap((way, i) =>
    i !== index ? [way] : change === null ? [] : [{ ...way, ...change }],
  );
  return { ...attached, ways: change === null ? ways : alonePlayed(ways, index) };
};

/** A lesson's attachments with that said of a finger that stays down, in place of what was said before. */
export const withStayDown = (lesson: Lesson, choice: StayDownChoice): AllAttached => {
  const attached = attachedOf(lesson);
  const others = attached.stayDownChoices.filter((other) => !isSamePlace(other, choice));
  return { ...attached, stayDownChoices: [...others, choice] };
};
