import { z } from 'zod';
import { buildState } from './pack.ts';

/** What the server tells of its own accord, as events of `GET /api/news` (one JSON document an event). */
export const news = z.discriminatedUnion('kind', [
  /** The shelf has other lessons than before, or others of them. */
  z.object({ kind: z.literal('shelf') }),
  /** A lesson's files have changed, by whomever. */
  z.object({ kind: z.literal('lesson'), id: z.string(), revision: z.string() }),
  z.object({ kind: z.literal('build'), id: z.string(), build: buildState }),
]);
/** What the server tells of its own accord. */
export type News = z.infer<typeof news>;

/** What went wrong, to be shown as it is: body of every answer of 400 and above. */
export const refusal = z.object({ message: z.string() });
