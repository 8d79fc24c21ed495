import type { Span } from '../../core/index.ts';
import { isCompound } from '../../music/index.ts';
import { LARGEST_TUPLET } from './limits.ts';
import type { Reading } from './reading.ts';
import type { Token } from './token.ts';

/** Notes in whose time a tuplet is played, where it does not say so; `n` is 3 in compound metres, else 2. Source: ABC standard 2.1, section 4.13. */
const NORMAL_NOTES: Readonly<Record<number, number | 'n'>> = {
  2: 3,
  3: 2,
  4: 3,
  5: 'n',
  6: 2,
  7: 'n',
  8: 3,
  9: 'n',
};

/** Begins a tuplet: the next notes belong to it. */
export const openTuplet = (r: Reading, token: Token & { readonly kind: 'tuplet' }, span: Span): void => {
  endTuplet(r);
  const usual = NORMAL_NOTES[token.p] ?? 'n';
  const normal = token.q ?? (usual === 'n' ? (isCompound(r.metre) ? 3 : 2) : usual);
  const count = token.r ?? token.p;
  const sane = [token.p, normal, count].every((n) => n >= 1 && n <= LARGEST_TUPLET) && token.p >= 2;
  if (!sane) {
    r.problems.add('tuplet-absurd', 'This tuplet cannot be played; its notes are read plain.', span);
    return;
  }
  r.tuplet = { actual: token.p, normal, count, events: [], span };
};

/** Ends a tuplet that is still open: it has fewer notes than it says. */
export const endTuplet = (r: Reading): void => {
  const tuplet = r.tuplet;
  if (tuplet === null) return;
  r.tuplet = null;
  const count = tuplet.events.length;
  for (const event of tuplet.events) if (event.tuplet !== null) event.tuplet = { ...event.tuplet, count };
  r.problems.add(
    'tuplet-incomplete',
    `This tuplet asks for ${tuplet.count} notes and has ${count}.`,
    tuplet.span,
  );
};
