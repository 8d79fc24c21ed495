import type { Bow, Finger, Mark, OrnamentSign } from '../../score/index.ts';

/** What a decoration does to its note. */
export type Decoration =
  | { readonly kind: 'sign'; readonly sign: OrnamentSign }
  | { readonly kind: 'mark'; readonly mark: Mark }
  | { readonly kind: 'bow'; readonly bow: Bow }
  | { readonly kind: 'finger'; readonly finger: Finger }
  | { readonly kind: 'other'; readonly name: string };

/** Names of ornaments; the first of each is how we write it. Source: ABC standard 2.1, section 4.14. */
const SIGN_NAMES: Readonly<Record<OrnamentSign, readonly string[]>> = {
  roll: ['roll'],
  slide: ['slide'],
  trill: ['trill', 'tr'],
  turn: ['turn'],
  upperMordent: ['uppermordent', 'pralltriller'],
  lowerMordent: ['lowermordent', 'mordent'],
};
/** Names of other signs, likewise; `staccato` has only its short mark in the standard. */
const MARK_NAMES: Readonly<Record<Mark, readonly string[]>> = {
  staccato: ['staccato'],
  accent: ['accent', '>', 'emphasis'],
  fermata: ['fermata'],
  tenuto: ['tenuto'],
  segno: ['segno'],
  coda: ['coda'],
  fine: ['fine'],
  dacapo: ['D.C.', 'dacapo', 'DC'],
  dalsegno: ['D.S.', 'dalsegno', 'DS'],
  breath: ['breath'],
};
const BOW_NAMES: Readonly<Record<Bow, readonly string[]>> = { up: ['upbow'], down: ['downbow'] };

const byName: ReadonlyMap<string, Decoration> = new Map<string, Decoration>([
  ...Object.entries(SIGN_NAMES).flatMap(([sign, names]) =>
    names.map((name): [string, Decoration] => [name, { kind: 'sign', sign: sign as OrnamentSign }]),
  ),
  ...Object.entries(MARK_NAMES).flatMap(([mark, names]) =>
    names.map((name): [string, Decoration] => [name, { kind: 'mark', mark: mark as Mark }]),
  ),
  ...Object.entries(BOW_NAMES).flatMap(([bow, names]) =>
    names.map((name): [string, Decoration] => [name, { kind: 'bow', bow: bow as Bow }]),
  ),
  ...([0, 1, 2, 3, 4] as const).map((finger): [string, Decoration] => [
    `${finger}`,
    { kind: 'finger', finger },
  ]),
]);

/** What `!name!` means; names that are none of ours are kept as they are. */
export const decorationNamed = (name: string): Decoration => byName.get(name) ?? { kind: 'other', name };

/** What the short marks mean unless `U:` says otherwise. Source: ABC standard 2.1, section 4.14. */
export const SHORT_MARKS: ReadonlyMap<string, string> = new Map([
  ['.', 'staccato'],
  ['~', 'roll'],
  ['H', 'fermata'],
  ['L', 'accent'],
  ['M', 'lowermordent'],
  ['O', 'coda'],
  ['P', 'uppermordent'],
  ['S', 'segno'],
  ['T', 'trill'],
  ['u', 'upbow'],
  ['v', 'downbow'],
]);

const shortByName: ReadonlyMap<string, string> = new Map(
  [...SHORT_MARKS].map(([short, name]) => [name, short]),
);

const written = (name: string): string => shortByName.get(name) ?? `!${name}!`;

/** How an ornament sign is written: its short mark where it has one. */
export const writtenSign = (sign: OrnamentSign): string => written(SIGN_NAMES[sign][0] ?? sign);
/** How another sign is written. */
export const writtenMark = (mark: Mark): string => written(MARK_NAMES[mark][0] ?? mark);
/** How a bow direction is written. */
export const writtenBow = (bow: Bow): string => written(BOW_NAMES[bow][0] ?? bow);
/** How a finger is written. */
export const writtenFinger = (finger: Finger): string => `!${finger}!`;
/** How a decoration that is none of ours is written. */
export const writtenOther = (name: string): string => `!${name}!`;

/** Marks that end a stretch of music: before a bar line they belong to the note that they follow. */
export const CLOSING_MARKS: ReadonlySet<Mark> = new Set<Mark>(['fine', 'dacapo', 'dalsegno', 'fermata']);
