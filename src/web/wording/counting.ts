// Numbers and times in words.

/** So many of something. */
export const many = (count: number, one: string, more: string): string =>
  `${count.toLocaleString('en-GB')} ${count === 1 ? one : more}`;

/** How long something takes, roughly. */
export const minutes = (seconds: number): string => {
  if (seconds < 10) return 'a few seconds';
  if (seconds < 90) return `${Math.ceil(seconds / 10) * 10} seconds`;
  return `${Math.ceil(seconds / 60)} minutes`;
};
