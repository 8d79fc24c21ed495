export type { Bank, BankVoice, BankZone } from './bank.ts';
export { readBank } from './bank.ts';
export type { RenderOptions, VoicePlace } from './renderTimeline.ts';
export { MIX, renderTimeline } from './renderTimeline.ts';
