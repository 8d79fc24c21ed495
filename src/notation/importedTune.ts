import type { Diagnostic } from '../core/index.ts';
import type { Score } from '../score/index.ts';

/** A tune from another program, or why there is none. */
export interface ImportedTune {
  readonly score: Score | null;
  readonly diagnostics: readonly Diagnostic[];
}
