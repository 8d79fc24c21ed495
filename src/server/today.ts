/** The day of a moment as people where the server stands count it, "2026-11-25". */
export const dayOf = (now: Date): string => {
  const two = (n: number): string => String(n).padStart(2, '0');
  return `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}`;
};
