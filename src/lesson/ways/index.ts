export type { KeptWay, WayState } from './keptWays.ts';
export { placeWays } from './keptWays.ts';
export { wayRemark, wayRemarks } from './wayWords.ts';
