import { printedName } from '../music/index.ts';
import type { Dissonance, UnlikeBar } from './fitTypes.ts';

/** At most so many places are named before the rest is counted. Ours. */
const MOST_NAMED = 6;

const list = (items: readonly string[]): string => {
  const named = items.slice(0, MOST_NAMED);
  const more = items.length - named.length;
  if (more > 0) return `${named.join(', ')} and ${more} more`;
  const last = named.at(-1) ?? '';
  return named.length < 2 ? last : `${named.slice(0, -1).join(', ')} and ${last}`;
};

const place = (at: UnlikeBar): string =>
  at.number === null ? `the notes before or after the numbered bars of part ${at.part}` : String(at.number);

const bars = (places: readonly UnlikeBar[]): string => {
  const names = [...new Set(places.map(place))];
  const numbered = places.some((p) => p.number !== null);
  return `${numbered ? (names.length > 1 ? 'bars ' : 'bar ') : ''}${list(names)}`;
};

const beatWords = (beat: number): string =>
  Number.isInteger(beat) ? `on beat ${beat}` : `after beat ${Math.floor(beat)}`;

/** Where and why a dissonance in a bar is heard: "on beat 2 (F♯ against G)". */
export const clashWords = (d: Dissonance): string =>
  `${beatWords(d.beat)} (${printedName(d.struck)} against ${printedName(d.held)})`;

const clashInBar = (d: Dissonance): string =>
  `${d.number === null ? place(d) : `bar ${d.number}`} clashes ${clashWords(d)}`;

/**
 * How versions go together, in a sentence or two.
 * @example "Fits." · "Fits. Listen at bars 6 and 13." · "Does not fit: bar 5 clashes on beat 2 (F♯ against G)."
 */
export const fitWords = (dissonances: readonly Dissonance[], unlike: readonly UnlikeBar[]): string => {
  if (unlike.length > 0)
    return `Does not fit: the versions have bars of different length at ${bars(unlike)}.`;
  const clashes = dissonances.filter((d) => d.strength === 'clash');
  if (clashes.length > 0) return `Does not fit: ${list([...new Set(clashes.map(clashInBar))])}.`;
  const exposed = dissonances.filter((d) => d.strength === 'exposed');
  return exposed.length > 0 ? `Fits. Listen at ${bars(exposed)}.` : 'Fits.';
};
