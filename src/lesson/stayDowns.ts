import { formatRational } from '../core/index.ts';
import { bestStayDowns, type Fingered, type StayDown, stayDownsOf } from '../fiddle/index.ts';
import type { Score } from '../score/index.ts';
import { anchorOf, isAsItWas } from './anchors/index.ts';
import { fingeringOptionsOf } from './handOptions.ts';
import type { Lesson } from './lesson.ts';
import { isSamePlace, type StayDownChoice } from './stayDownChoices.ts';

/** A version of which the fingers are asked. */
interface Version {
  readonly id: string;
  readonly score: Score;
}

/** What is kept of a finger that stays down in a version. */
export const stayDownChoice = (
  { versions: { plain } }: Lesson,
  version: string,
  { from: { part, bar, onset }, finger, strings }: StayDown,
  shown: boolean,
): StayDownChoice => {
  return {
    version,
    anchor: anchorOf(plain, part, bar),
    onset: formatRational(onset),
    finger,
    strings,
    shown,
  };
};

/** What the teacher says of each finger that stays down in a version; null: nothing. */
const said = (lesson: Lesson, version: string): ((stay: StayDown) => boolean | null) => {
  const here = lesson.stayDownChoices.filter(
    (choice) => choice.version === version && isAsItWas(choice.anchor, lesson.versions.plain),
  );
  return (stay) => {
    const asked = stayDownChoice(lesson, version, stay, true);
    return here.find((choice) => isSamePlace(choice, asked))?.shown ?? null;
  };
};

/**
 * All fingers that could stay down in a version, most useful first.
 * @param fingering - of the version; worked out when absent
 */
export const stayDownsIn = (
  lesson: Lesson,
  { score }: Version,
  fingering?: readonly Fingered[],
): readonly StayDown[] => stayDownsOf(score, fingeringOptionsOf(lesson.settings), fingering);

/**
 * The fingers that a version says to leave down: the one or two most useful of each part and those that the teacher
 * asked for, without those that the teacher does not want.
 * @param fingering - of the version; worked out when absent
 */
export const stayDownsShown = (
  lesson: Lesson,
  version: Version,
  fingering?: readonly Fingered[],
): readonly StayDown[] =>
  bestStayDowns(version.score, stayDownsIn(lesson, version, fingering), said(lesson, version.id));

/** Those alone that the teacher asked for. */
export const stayDownsAsked = (
  lesson: Lesson,
  version: Version,
  fingering?: readonly Fingered[],
): readonly StayDown[] => {
  if (!lesson.stayDownChoices.some((choice) => choice.version === version.id && choice.shown)) return [];
  const saidOf = said(lesson, version.id);
  return stayDownsIn(lesson, version, fingering).filter((stay) => saidOf(stay) === true);
};
