/** Ends a command with one clear sentence (exit 1) where nothing in the program is at fault. */
export class Stop extends Error {
  name = 'Stop';
}
