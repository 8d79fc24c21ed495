import { type Engraver, engraveSnippet } from '../engrave/index.ts';
import { compareSettings, type Lesson, type SettingBar, titlesOf } from '../lesson/index.ts';
import type { CompareAnswer } from '../protocol/index.ts';
import { barsOf } from '../score/index.ts';

/** Height of the pictures' staves, in points. Ours. */
const STAFF = 24;

type Side = CompareAnswer['bars'][number]['first'];

/** Draws bars of "all the notes" of a lesson. */
const sidesOf = (id: string, { versions, settings }: Lesson, engraver: Engraver) => {
  const score = versions.plain;
  const bars = barsOf(score);
  const word = settings.words === 'us' ? 'measure' : 'bar';
  return (place: SettingBar | null): Side => {
    if (place === null) return null;
    const at = bars.findIndex(({ part, index }) => part === place.part && index === place.bar);
    const label = place.number === null ? `part ${place.part}, no number` : `${word} ${place.number}`;
    const { svg } = engraveSnippet(
      [{ id: `${id}${at}`, name: '', score }],
      { from: at, to: at + 1, staff: STAFF },
      engraver,
    );
    return { label, picture: svg };
  };
};

/** Two lessons bar under bar, with pictures. */
export const comparedLessons = (first: Lesson, second: Lesson, engraver: Engraver): CompareAnswer => {
  const { bars, summary } = compareSettings(first, second);
  const [one, other] = [sidesOf('first', first, engraver), sidesOf('second', second, engraver)];
  return {
    titles: [titlesOf(first)[0] ?? '', titlesOf(second)[0] ?? ''],
    summary: [...summary],
    bars: bars.map((bar) => ({
      first: one(bar.first),
      second: other(bar.second),
      differences: [...bar.differences],
    })),
  };
};
