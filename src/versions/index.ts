export type { SiteKind } from '../fiddle/index.ts';
export { SITE_KINDS } from '../fiddle/index.ts';
export type { BonesSettings } from './bones.ts';
export { bonesOf } from './bones.ts';
export type { ChoiceReason } from './choiceFacts.ts';
export type { BonesChoice, ChoicesOfBar } from './choices.ts';
export { bonesChoicesOf } from './choices.ts';
export { choiceWords } from './choiceWords.ts';
export type { Versions } from './deriveVersions.ts';
export { deriveVersions } from './deriveVersions.ts';
export { fitOf } from './fit.ts';
export type { Dissonance, Fit, Strength, UnlikeBar } from './fitTypes.ts';
export { clashWords } from './fitWords.ts';
export type { BarToKeep, KeptVerdict } from './kept.ts';
export { withKeptBars } from './kept.ts';
export { plainOf } from './plain.ts';
export type { VersionReport } from './report.ts';
export { reportOf } from './report.ts';
export type { Density, PlainSwitches, VersionSettings } from './settings.ts';
export { DENSITIES } from './settings.ts';
export type {
  OrnamentSuggestion,
  Reason,
  SuggestionDensity,
  SuggestionSettings,
} from './suggest/suggestion.ts';
export { SUGGESTION_DENSITIES } from './suggest/suggestion.ts';
export { suggestOrnaments } from './suggest/suggestOrnaments.ts';
export type { AcceptedOrnament, Ornamented } from './suggest/withOrnaments.ts';
export { withOrnaments } from './suggest/withOrnaments.ts';
