import type { z } from 'zod';
import { placeFinder } from '../core/index.ts';
import { TEMPO_STEPS } from '../music/index.ts';

/** One thing that is wrong with lesson.json: a sentence that names the field; line and column count from 1. */
export interface LessonProblem {
  readonly message: string;
  readonly line: number;
  readonly column: number;
}

/** Where JSON.parse stopped: its message names the offset. The start where it names none. */
const placeOfJsonError = (
  text: string,
  error: unknown,
): { readonly line: number; readonly column: number } => {
  const offset = /position (\d+)/.exec(error instanceof Error ? error.message : '')?.[1];
  return placeFinder(text)(offset === undefined ? text.length : Number(offset));
};

const listed = (values: readonly unknown[]): string => values.map((v) => JSON.stringify(v)).join(' or ');

const KINDS: Readonly<Record<string, string>> = {
  string: 'a text in quotes',
  number: 'a number',
  int: 'a whole number',
  array: 'a list in square brackets',
  object: 'fields in curly brackets',
};

/** What a field should hold, in words. */
const wanted = (issue: z.core.$ZodIssue): string => {
  switch (issue.code) {
    case 'invalid_type':
      return `takes ${KINDS[issue.expected] ?? issue.expected}.`;
    case 'too_big':
      if (issue.origin === 'array') return `has too many; at most ${issue.maximum}.`;
      return `is too ${issue.origin === 'string' ? 'long' : 'large'}; at most ${issue.maximum}${issue.origin === 'string' ? ' characters' : ''}.`;
    case 'too_small':
      if (issue.origin !== 'array') return `is too small; at least ${issue.minimum}.`;
      return issue.minimum === 1 ? 'is empty.' : `has too few; at least ${issue.minimum}.`;
    case 'invalid_value':
      return `takes ${listed(issue.values)}.`;
    case 'invalid_format':
      return issue.format === 'date'
        ? 'takes a day like "2026-11-25".'
        : 'is not written as docs/lesson.schema.json asks.';
    case 'invalid_union':
      if ('options' in issue && Array.isArray(issue.options)) return `takes ${listed(issue.options)}.`;
      return issue.path[0] === 'keptBars' || issue.path[0] === 'ways'
        ? 'is not written as docs/lesson.schema.json asks.'
        : `takes a number or ${listed(TEMPO_STEPS)}.`;
    case 'unrecognized_keys':
      return `has no field ${listed(issue.keys)}.`;
    case 'custom':
      return issue.message;
    default:
      return `is wrong: ${issue.message}.`;
  }
};

/** Where a field stands: behind its name, searched for along its path; the text's start where it is missing. */
export const placeOfField = (
  text: string,
  path: readonly PropertyKey[],
): { line: number; column: number } => {
  let at = 0;
  for (const name of path.filter((p) => typeof p === 'string')) {
    const found = text.indexOf(JSON.stringify(name), at);
    if (found === -1) break;
    at = found;
  }
  return placeFinder(text)(at);
};

/** What a JSON file of ours holds, or every problem in a sentence that names the field. */
type ReadJson<T> =
  | { readonly kind: 'read'; readonly data: T }
  | { readonly kind: 'problem'; readonly problems: readonly LessonProblem[] };

/**
 * Reads a JSON file of a form.
 * @param name - of the file, for problems that are no field's
 */
export const readJson = <T>(text: string, form: z.ZodType<T>, name: string): ReadJson<T> => {
  let json: unknown;
  try {
    json = JSON.parse(text);
  } catch (error) {
    const message = 'this is not well-formed JSON: look for a missing quote, comma or bracket here.';
    return { kind: 'problem', problems: [{ message, ...placeOfJsonError(text, error) }] };
  }
  const read = form.safeParse(json);
  if (read.success) return { kind: 'read', data: read.data };
  return {
    kind: 'problem',
    problems: read.error.issues.map((issue) => ({
      message: `${issue.path.length === 0 ? name : issue.path.join('.')} ${wanted(issue)}`,
      ...placeOfField(
        text,
        issue.code === 'unrecognized_keys' ? [...issue.path, ...issue.keys.slice(0, 1)] : issue.path,
      ),
    })),
  };
};
