import type { Score } from '../score/index.ts';
import { bonesOf } from './bones.ts';
import { plainOf } from './plain.ts';
import type { VersionSettings } from './settings.ts';

/** The versions of one tune: same parts, same bars, same addresses. */
export interface Versions {
  /** Accented notes and shape, for newcomers. */
  readonly bones: Score;
  /** All the notes, no ornaments. */
  readonly plain: Score;
  /** As written. */
  readonly full: Score;
}

/**
 * The three versions of a tune, simplest first; they can be played together.
 *
 * The same tune and settings give the same versions on every machine.
 * @param written - the teacher's setting
 */
export const deriveVersions = (written: Score, settings: VersionSettings = {}): Versions => {
  const plain = plainOf(written, settings.plain);
  const bare =
    settings.plain?.ornaments === 'main' ? plainOf(written, { ...settings.plain, ornaments: 'none' }) : plain;
  return { bones: bonesOf(bare, { density: settings.density ?? 'usual' }), plain, full: written };
};
