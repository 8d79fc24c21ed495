export type { Bank } from './bank.ts';
export { readBank } from './bank.ts';
export type { RenderOptions } from './renderTimeline.ts';
export { renderTimeline } from './renderTimeline.ts';
