export type { Attached, KeptBar, KeptOutcome, KeptState } from './keptBars.ts';
export { keepBars } from './keptBars.ts';
export type { StoredEvent } from './keptEvents.ts';
export { eventsOf, STORED_MARKS, STORED_SIGNS, storedEvents, storedWhole } from './keptEvents.ts';
export type { KeptRemark } from './keptWords.ts';
export { keptRemark } from './keptWords.ts';
