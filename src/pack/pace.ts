/** Time left is not guessed before this share is done. Ours. */
const FIRST_GUESS = 0.05;

/**
 * How long will the rest take? From the time that the work has taken so far; its weights make the shares.
 * @param began - when it began, in milliseconds on any clock
 * @returns a function of the share done, 0…1, and the time now: seconds left; null until a guess is worth something
 */
export const paceFrom =
  (began: number): ((fraction: number, now: number) => number | null) =>
  (fraction, now) =>
    fraction < FIRST_GUESS ? null : Math.max(0, ((now - began) / 1000) * (1 / Math.min(1, fraction) - 1));
