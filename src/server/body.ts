import type { Context } from 'hono';
import { refuse } from './refuse.ts';

/** What a request's body says, or the answer that refuses it. */
export type Body<T> =
  | { readonly kind: 'body'; readonly body: T }
  | { readonly kind: 'refused'; readonly answer: Response };

/** A form of the protocol: tells what a value says, or where it is wrong. */
interface Form<T> {
  readonly safeParse: (value: unknown) =>
    | { readonly success: true; readonly data: T }
    | {
        readonly success: false;
        readonly error: {
          readonly issues: readonly { readonly path: readonly PropertyKey[]; readonly message: string }[];
        };
      };
}

/** Reads a request's JSON by a form of the protocol. */
export const bodyOf = async <T>(context: Context, form: Form<T>): Promise<Body<T>> => {
  let json: unknown;
  try {
    json = await context.req.json();
  } catch {
    return { kind: 'refused', answer: refuse(context, 400, 'The request is no well-formed JSON.') };
  }
  const read = form.safeParse(json);
  if (read.success) return { kind: 'body', body: read.data };
  const [issue] = read.error.issues;
  const field = issue?.path.join('.') ?? '';
  const message = `The request cannot be used: ${field === '' ? 'the whole' : field} is wrong (${issue?.message ?? 'unknown'}).`;
  return { kind: 'refused', answer: refuse(context, 400, message) };
};
