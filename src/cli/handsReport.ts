import { awkwardPlacesOf, bowRepairsOf, fingeringOf, stayDownsOf } from '../fiddle/index.ts';
import { fingeringOptionsOf, type LessonSettings, type LessonVersion } from '../lesson/index.ts';
import { addressKey } from '../score/index.ts';

/**
 * What the hands meet in a version, as report.json says it: where fingers stay down, awkward places, and what would make
 * bars open with a down-bow. Places are part, bar and onset ("A/3/1:4"); nothing of it is done to the tune.
 */
export const handsReport = ({ score }: LessonVersion, settings: LessonSettings): unknown => {
  const options = fingeringOptionsOf(settings);
  const fingering = fingeringOf(score, options);
  return {
    stayDowns: stayDownsOf(score, options, fingering).map(({ from, to, finger, strings, reason }) => ({
      from: addressKey(from),
      to: addressKey(to),
      finger,
      strings,
      reason,
    })),
    awkward: awkwardPlacesOf(score, options, fingering).map(({ kind, from, to, what, advice }) => ({
      kind,
      from: addressKey(from),
      to: addressKey(to),
      what,
      advice,
    })),
    bowRepairs: bowRepairsOf(score).map(({ kind, at, to, reason }) => ({
      kind,
      from: addressKey(at),
      to: addressKey(to),
      reason,
    })),
  };
};
