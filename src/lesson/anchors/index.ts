export { alignBars } from './alignment.ts';
export type { Anchor, Found } from './anchor.ts';
export { anchorAt, anchoredNow, anchorFinder, anchorOf, isAsItWas, reAnchored } from './anchor.ts';
export type { BarTable, TableBar } from './barTable.ts';
export { barTableOf } from './barTable.ts';
