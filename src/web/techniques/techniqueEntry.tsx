import type { StandingWish, TechniquesAnswer } from '../../protocol/index.ts';
import { Link } from '../link.tsx';
import { barAddress, lessonAddress } from '../route.ts';
import { wording } from '../wording/index.ts';

const { techniques: words } = wording;

type Entry = TechniquesAnswer['techniques'][number];

interface EntryProps {
  readonly entry: Entry;
  /** Null: standing words cannot be changed now. */
  readonly save: ((change: Partial<StandingWish>) => void) | null;
}

const LINES: Readonly<Record<keyof StandingWish, number>> = { words: 4, drill: 2, see: 2 };

/** One field of a technique's standing words; it is saved when it is left. */
const Field = ({
  entry: { name, note },
  field,
  save,
}: {
  readonly entry: Entry;
  readonly field: keyof StandingWish;
  readonly save: (change: Partial<StandingWish>) => void;
}) => (
  <label>
    <span>{words[field]}</span>
    <textarea
      key={note[field]}
      rows={LINES[field]}
      defaultValue={note[field]}
      aria-label={`${words[field]}: ${name}`}
      onBlur={({ target }) => {
        if (target.value.trim() !== note[field]) save({ [field]: target.value });
      }}
    />
  </label>
);

/** A technique: where it is taught, and the teacher's standing words for it. */
export const TechniqueEntry = ({ entry, save }: EntryProps) => {
  const { name, lessons, note } = entry;
  const isWritten = [note.words, note.drill, note.see].some((text) => text !== '');
  return (
    <li className="technique">
      <h2>
        {name} <span className="quiet">{words.here(lessons.length)}</span>
      </h2>
      <ul>
        {lessons.map(({ id, title, where, bar }) => (
          <li key={id}>
            <Link to={bar === null ? lessonAddress(id) : barAddress(id, bar)}>{title}</Link>{' '}
            <span className="quiet">{where === '' ? words.whole : where}</span>
          </li>
        ))}
      </ul>
      {save !== null && (
        <details>
          <summary aria-label={`${isWritten ? words.written : words.edit}: ${name}`}>
            {isWritten ? words.written : words.edit}
          </summary>
          {(['words', 'drill', 'see'] as const).map((field) => (
            <Field key={field} {...{ entry, field, save }} />
          ))}
        </details>
      )}
    </li>
  );
};
