export type { Anchor, Found } from './anchor.ts';
export { anchorAt, anchorFinder, reAnchored } from './anchor.ts';
export type { BarTable } from './barTable.ts';
export { barTableOf } from './barTable.ts';
