import type { OrnamentKind } from '../../fiddle/index.ts';

/** The kinds of ornament, in the order in which they are listed. */
export const ORNAMENT_KINDS = [
  'cut',
  'strike',
  'doubleGrace',
  'graceRun',
  'longRoll',
  'shortRoll',
  'treble',
  'runTriplet',
  'turnTriplet',
  'arpeggioTriplet',
  'slide',
  'trill',
  'turn',
  'upperMordent',
  'lowerMordent',
  'drone',
  'laidFinger',
  'unison',
  'doubleStop',
] as const satisfies readonly OrnamentKind[];

/** What a teacher has standing words for: every kind of ornament, fingers that stay down, bowing, swing. */
export const TECHNIQUES = [...ORNAMENT_KINDS, 'stayDown', 'bowing', 'swing'] as const;

/** A technique that standing words can be written for. */
export type Technique = (typeof TECHNIQUES)[number];

/** Where a technique was taught before: an earlier lesson by its title, or a web address (http or https). */
export type TechniqueLink = { readonly lesson: string } | { readonly web: string; readonly title?: string };

/** What a teacher writes once about a technique, and what comes into every lesson that has it. */
export interface StandingNote {
  readonly words?: string;
  /** A drill of one or two lines. */
  readonly drill?: readonly string[];
  readonly see?: readonly TechniqueLink[];
}

/** A teacher's standing words by technique. */
export type StandingWords = Partial<Readonly<Record<Technique, StandingNote>>>;

/** The longest address that is taken. Ours. */
const LONGEST_ADDRESS = 2000;

/**
 * What is wrong with a web address of a technique's link.
 * @returns a sentence with the remedy; null where it can be linked to
 */
export const webAddressProblem = (address: string): string | null => {
  if (address.length > LONGEST_ADDRESS) return `is longer than ${LONGEST_ADDRESS} characters.`;
  const scheme = /^([a-z][a-z0-9+.-]*):/i.exec(address)?.[1]?.toLowerCase();
  if (scheme === undefined) return 'has no scheme: begin it with https:// or http://.';
  if (scheme !== 'http' && scheme !== 'https')
    return `begins with "${scheme}:"; only http:// and https:// addresses are linked.`;
  if (!/^https?:\/\/[^\s/?#@"'<>\\]+(?:[/?#][^\s"'<>\\]*)?$/i.test(address))
    return 'is no web address: it takes a host after https://, without spaces, quotes or a name and password.';
  return null;
};
