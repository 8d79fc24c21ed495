import { paceFrom } from '../pack/index.ts';
import type { Io } from './io.ts';

/** Shows how far long work has come: one line that is written over, on a terminal only. */
export interface Progress {
  /** @param fraction - share of the work done, 0…1  @param doing - what is being made */
  readonly show: (fraction: number, doing: string) => void;
  /** Takes the line away. */
  readonly clear: () => void;
}

/** The line is drawn at most so often, in milliseconds. */
const REDRAW = 100;

/** A terminal that does not tell its width (or says 0) is taken for so wide, in characters. */
const USUAL_WIDTH = 80;

/** ", about 20 seconds left"; nothing for the last second. */
const timeLeft = (left: number | null): string => {
  if (left === null) return '';
  const whole = Math.round(left);
  if (whole < 1) return '';
  if (whole < 100) return `, about ${whole} second${whole === 1 ? '' : 's'} left`;
  return `, about ${Math.round(whole / 60)} minutes left`;
};

/** Progress of one piece of work that begins now; silent when standard error is no terminal. */
export const progressOn = (io: Io): Progress => {
  if (io.stderr.isTTY !== true) return { show: () => undefined, clear: () => undefined };
  const secondsLeft = paceFrom(io.now().getTime());
  let drawn = 0;
  return {
    show: (fraction, doing) => {
      const now = io.now().getTime();
      if (now - drawn < REDRAW) return;
      drawn = now;
      const line = `${Math.floor(fraction * 100)} % done${timeLeft(secondsLeft(fraction, now))} · ${doing}`;
      io.stderr.write(`\r\u001b[K${line.slice(0, (io.stderr.columns || USUAL_WIDTH) - 1)}`);
    },
    clear: () => {
      io.stderr.write('\r\u001b[K');
    },
  };
};
