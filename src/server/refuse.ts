import type { Context } from 'hono';

/** Status codes of refusals. */
export type RefusalStatus = 400 | 403 | 404 | 409 | 413 | 416 | 500 | 507;

/** Answers with a sentence that the page shows as it is. */
export const refuse = (context: Context, status: RefusalStatus, message: string): Response =>
  context.json({ message }, status);

/** Of a lesson that is not on the shelf. */
export const noLesson = (context: Context): Response =>
  refuse(
    context,
    404,
    'This lesson is not on the shelf any more. Somebody may have deleted or renamed its folder.',
  );

/** So much of a request that is refused for its size is read to its end all the same, in bytes. Ours. */
const MOST_DRAINED = 200_000_000;

/**
 * Of what is too large. The rest of it is read and thrown away first: a browser that cannot send to the end shows a
 * broken line instead of our sentence.
 */
export const refuseTooLarge = async (context: Context, message: string): Promise<Response> => {
  try {
    const reader = context.req.raw.body?.getReader();
    for (let read = 0; reader !== undefined && read < MOST_DRAINED; ) {
      const { done, value } = await reader.read();
      if (done) break;
      read += value.length;
    }
  } catch {
    // Somebody is reading it already, or the sender has gone.
  }
  return refuse(context, 413, message);
};
