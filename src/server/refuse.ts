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
