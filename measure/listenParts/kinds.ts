import type { Recipe } from './takes.ts';

/** A column of the table: how its recordings are made, and what must hold. */
export interface Kind {
  readonly name: string;
  readonly recipe: Omit<Recipe, 'player'>;
  readonly tuning: number;
  readonly notes: number;
  readonly beats: number;
  readonly swing: number;
  /** Milliseconds: median and 95 % of onsets, 99 % of bar lines. */
  readonly onsets: readonly [number, number];
  readonly draft: number;
}

/** What is asked of a fiddle under guitar and drones. */
const IN_COMPANY: Omit<Kind, 'name' | 'recipe'> = {
  tuning: 4,
  notes: 0.9,
  beats: 0.93,
  swing: 0.1,
  onsets: [20, 50],
  draft: 0.95,
};

/** The columns: what is asked for, then drones softer and louder. */
export const KINDS: readonly Kind[] = [
  {
    name: 'solo',
    recipe: { cents: 35, drift: 0.03 },
    tuning: 2,
    notes: 0.95,
    beats: 0.94,
    swing: 0.08,
    onsets: [15, 45],
    draft: 0.97,
  },
  {
    name: '78',
    recipe: { disc: 15, cents: -42, drift: 0.02 },
    tuning: 3,
    notes: 0.91,
    beats: 0.93,
    swing: 0.1,
    onsets: [15, 50],
    draft: 0.97,
  },
  { name: 'guitar, drones', recipe: { guitar: -8, drone: -6, cents: 12 }, ...IN_COMPANY },
  { name: 'guitar, drones −12 dB', recipe: { guitar: -8, drone: -12, cents: 12 }, ...IN_COMPANY },
  { name: 'guitar, drones 0 dB', recipe: { guitar: -8, drone: 0, cents: 12 }, ...IN_COMPANY },
];

/** Swings that the tunes in simple time take in turn. */
const SWINGS = [1, 1.3, 1.6];

/**
 * How the take of a tune is made: swings and players in turn.
 * @param k, i - places of the kind and of the tune
 */
export const recipeOf = ({ recipe }: Kind, k: number, i: number): Recipe => ({
  ...recipe,
  swing: SWINGS[(i + k) % SWINGS.length] ?? 1,
  player: (i + k) % 2 === 0 ? 'bowed' : 'bank',
});
