import type { OwnNames, TechniquesAnswer } from '../../protocol/index.ts';
import { Link } from '../link.tsx';
import { lessonAddress } from '../route.ts';
import { whenWords } from '../shelf/whenWords.ts';
import { wording } from '../wording/index.ts';
import { TechniqueEntry } from './techniqueEntry.tsx';
import { useTechniques } from './useTechniques.ts';

const { techniques: words } = wording;

const NAMES = ['cut', 'treble', 'run', 'roll'] as const;

/** The teacher's own words for ornaments. */
const Names = ({ names, save }: { readonly names: OwnNames; readonly save: (names: OwnNames) => void }) => (
  <details className="names">
    <summary>{words.own}</summary>
    <p className="quiet">{words.ownAbout}</p>
    {NAMES.map((name) => (
      <label key={name}>
        <span>{words.names[name]}</span>
        <input
          type="text"
          maxLength={40}
          key={names[name]}
          defaultValue={names[name]}
          onBlur={({ target }) => {
            if (target.value.trim() !== names[name]) save({ ...names, [name]: target.value });
          }}
        />
      </label>
    ))}
  </details>
);

/** Lessons whose learners have something else than the lesson is now. */
const HandedOut = ({ handedOut, left }: TechniquesAnswer) => (
  <section className="handedOut" aria-label={words.handedOut}>
    <h2>{words.handedOut}</h2>
    <p className="quiet">{words.handedOutAbout}</p>
    {handedOut.length === 0 && left === 0 && <p>{words.noneChanged}</p>}
    <ul>
      {handedOut.map(({ id, title, made, changes }) => (
        <li key={id}>
          <Link to={lessonAddress(id)}>{title}</Link>{' '}
          <span className="quiet">{words.made(whenWords(made, new Date()))}</span>
          <p>{changes.join(' ')}</p>
        </li>
      ))}
    </ul>
  </section>
);

/** All techniques over all lessons; standing words; what has changed in lessons that were handed out. */
export const TechniquesPage = () => {
  const { answer, trouble, safety, save } = useTechniques();
  return (
    <main className="page techniques">
      <p className="crumb">
        <Link to="/">{words.back}</Link> <span role="status">{safety}</span>
      </p>
      <h1>{words.heading}</h1>
      <p>{words.about}</p>
      {trouble !== '' && (
        <p className="trouble" role="alert">
          {trouble}
        </p>
      )}
      {answer === null ? (
        <p role="status">{trouble === '' ? wording.loading : ''}</p>
      ) : (
        <>
          {answer.problems.length > 0 && (
            <p className="trouble" role="alert">
              {words.unreadable(answer.problems.join(' '))}
            </p>
          )}
          <p className="quiet" role="status">
            {answer.left > 0 ? words.looking(answer.left) : ''}
          </p>
          {answer.problems.length === 0 && <Names names={answer.names} save={(names) => save({ names })} />}
          <ul className="index">
            {answer.techniques
              .toSorted((a, b) => Number(a.lessons.length === 0) - Number(b.lessons.length === 0))
              .map((entry) => (
                <TechniqueEntry
                  key={entry.technique}
                  entry={entry}
                  save={
                    answer.problems.length > 0
                      ? null
                      : (note) => save({ note: { ...note, technique: entry.technique } })
                  }
                />
              ))}
          </ul>
          <HandedOut {...answer} />
        </>
      )}
    </main>
  );
};
