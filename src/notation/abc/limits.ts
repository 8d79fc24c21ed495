/** Longest text that is read, in UTF-16 code units: a tune book of some 10,000 tunes. Ours. */
export const MOST_TEXT = 5_000_000;
/** Most bars that are read of one tune. Ours. */
export const MOST_BARS = 20_000;
/** Most errors, and most warnings and remarks, that are listed for one tune; the rest is only counted. Ours. */
export const MOST_PROBLEMS = 200;
/** Longest note or rest, in whole notes (a longa is 4). Ours. */
export const LONGEST_NOTE = 64;
/** Longest number in a length ("A123456" is a slip). Ours. */
export const LARGEST_LENGTH_NUMBER = 1024;
/** Most notes of a tuplet, and most notes that they may replace. Ours. */
export const LARGEST_TUPLET = 32;
/** Finest common fraction of a whole note in one tune: exact sums stay safe integers below it. Ours. */
export const FINEST_FRACTION = 400_000;
/** Longest tune in whole notes; with `FINEST_FRACTION` it keeps exact sums within safe integers. Ours. */
export const LONGEST_TUNE = 20_000;
/** Most bars of one multi-bar rest. Ours. */
export const LONGEST_BAR_REST = 200;
/** Highest pass that an ending may name, and most repeat dots that count. Ours. */
export const MOST_PASSES = 16;
/** Most parts in a part order, expanded. Ours. */
export const LONGEST_PART_ORDER = 200;
/** Deepest brackets in a part order. Ours. */
export const DEEPEST_PART_ORDER = 8;
/** Longest line after macros have been put in. Ours. */
export const LONGEST_LINE = 100_000;
/** Octaves that a pitch may lie in: scientific numbers, C4 is middle C. Ours: keeps every MIDI number valid. */
export const OCTAVES = { lowest: 0, highest: 8 } as const;
