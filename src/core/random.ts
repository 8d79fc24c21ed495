/** A source of repeatable chance: same seed, same numbers, on every machine. */
export interface Random {
  /** The next number, 0 ≤ x < 1. */
  readonly next: () => number;
  /** The next normally distributed number, mean 0, standard deviation 1. */
  readonly normal: () => number;
}

/**
 * Starts a repeatable stream of random numbers.
 *
 * Not for secrets. Four 32-bit words of state, so streams with neighbouring seeds are unrelated after warm-up.
 * @param seed - any integer; only its low 32 bits count
 * @see Source: the sfc32 generator of PractRand (C. Doty-Humphrey, public domain), from memory
 */
export const randomFrom = (seed: number): Random => {
  let a = 0x9e3779b9;
  let b = 0x243f6a88;
  let c = seed | 0;
  let counter = 1;
  const word = (): number => {
    const t = (((a + b) | 0) + counter) | 0;
    counter = (counter + 1) | 0;
    a = b ^ (b >>> 9);
    b = (c + (c << 3)) | 0;
    c = (((c << 21) | (c >>> 11)) + t) | 0;
    return t >>> 0;
  };
  for (let i = 0; i < 15; i += 1) word();
  const next = (): number => word() / 0x1_0000_0000;
  const normal = (): number => {
    const radius = Math.sqrt(-2 * Math.log(1 - next()));
    return radius * Math.cos(2 * Math.PI * next());
  };
  return { next, normal };
};
