export type { KeptWay, WayState } from './keptWays.ts';
export { placeWays, wayEventsOf } from './keptWays.ts';
