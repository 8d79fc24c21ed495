export type { Address } from './address.ts';
export { addressKey } from './address.ts';
export type { LooseBar } from './assemble.ts';
export { assembleParts } from './assemble.ts';
export type { CountedBar } from './countedBars.ts';
export { countedBarsOf } from './countedBars.ts';
export type { Bow, Event, Finger, GraceNotes, Mark, Note, OrnamentSign, Rest, TupletPlace } from './event.ts';
export { plainNote } from './event.ts';
export { melodyFirst } from './melodyFirst.ts';
export type { PlayedBar } from './playedOrder.ts';
export { MOST_PLAYED_BARS, playedOrder } from './playedOrder.ts';
export type {
  Annotation,
  Bar,
  BarLine,
  BarRole,
  BarWay,
  ChordSymbol,
  Field,
  Part,
  Score,
  Tempo,
  WayPlayed,
} from './score.ts';
export { fieldsOf, titleOf } from './score.ts';
export type { PlacedBar, PlacedEvent, PlacedNote } from './walk.ts';
export {
  barsOf,
  fingerprintOf,
  isFull,
  metricalOffsetOf,
  notesOf,
  placedEvents,
  runningNoteOf,
  writtenLengthOf,
} from './walk.ts';
