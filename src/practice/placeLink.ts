import type { PracticeData } from '../lesson/index.ts';
import { PERCENT, type State } from './state.ts';

/** What a link needs to know of the tune: the printed number of each written bar, null for a pick-up. */
export type BarNumbers = readonly (number | null)[];

/**
 * The words behind the address that open the page at a place.
 *
 * "full,bar13-16,loop,at60": version (two joined by "+"), bars by their printed numbers, whether they are repeated,
 * tempo in hundredths; before them "tune2" in the page of a set. What is left out stays as the page would have it.
 * @param place - which tune of a set, from 0; null: the page is of one lesson
 */
export const linkTo = (state: State, numbers: BarNumbers, place: number | null): string => {
  const from = state.loop?.from ?? state.at;
  const to = state.loop?.to ?? from;
  const [first, last] = [from, to].map((bar) => (bar === null ? null : numberNear(bar, numbers)));
  const bars =
    first === null || first === undefined || last === null || last === undefined
      ? []
      : [first === last ? `bar${first}` : `bar${first}-${last}`];
  return `#${[
    ...(place === null ? [] : [tuneWord(place)]),
    state.versions.join('+'),
    ...bars,
    ...(state.loop === null ? [] : ['loop']),
    `at${state.percent}`,
  ].join(',')}`;
};

/** The word that asks for a tune of a set. */
const tuneWord = (place: number): string => `tune${place + 1}`;

/** The address of a tune of this page's set, from 0. */
export const tuneLink = (place: number): string => `#${tuneWord(place)}`;

/** Which tune of a set the words behind the address ask for, from 0; null: none. */
export const placeInSet = (hash: string): number | null => {
  for (const word of wordsIn(hash)) {
    const [, number] = /^tune([1-9])$/.exec(word) ?? [];
    if (number !== undefined) return Number(number) - 1;
  }
  return null;
};

const numberNear = (bar: number, numbers: BarNumbers): number | null =>
  numbers.slice(bar).find((n) => n !== null) ?? null;

/** The words behind an address; what is no text at all has none. */
const wordsIn = (hash: string): readonly string[] => {
  try {
    return decodeURIComponent(hash.replace(/^#/, '')).split(',');
  } catch {
    return [];
  }
};

/** What the words behind the address ask for; words that mean nothing are passed over. */
export const placeIn = (hash: string, data: PracticeData, numbers: BarNumbers): Partial<State> => {
  const place: { -readonly [K in keyof State]?: State[K] } = {};
  let bars: { from: number; to: number } | null = null;
  let loops = false;
  for (const word of wordsIn(hash)) {
    const versions = word.split('+');
    const [, from, to] = /^(?:bar|measure)(\d+)(?:-(\d+))?$/.exec(word) ?? [];
    const [, percent] = /^at(\d+)$/.exec(word) ?? [];
    if (word === 'loop') loops = true;
    else if (from !== undefined) {
      const first = numbers.indexOf(Number(from));
      const last = to === undefined ? first : numbers.indexOf(Number(to));
      if (first >= 0) bars = { from: first, to: Math.max(first, last) };
    } else if (percent !== undefined)
      place.percent = Math.min(PERCENT.most, Math.max(PERCENT.least, Number(percent)));
    else if (versions.every((id) => data.versions.some((v) => v.id === id))) place.versions = versions;
  }
  if (bars !== null) {
    place.at = bars.from;
    place.loop = loops ? bars : null;
  }
  return place;
};
