import { useState } from 'react';
import type { SetAnswer, SetWish } from '../../protocol/index.ts';
import { Link } from '../link.tsx';
import { goTo } from '../route.ts';
import { server } from '../server.ts';
import { messageOf } from '../shelf/useTuneText.ts';
import { wording } from '../wording/index.ts';
import { Corner } from './corner.tsx';
import { LessonFinder } from './lessonFinder.tsx';
import { moved } from './ordering.tsx';
import { SetPack } from './setPack.tsx';
import type { SetSafety } from './setSaver.ts';
import { TuneInSet } from './tuneInSet.tsx';
import { type OpenSet, useSet } from './useSet.ts';
import { SET_SIZE, usualTune, withTune } from './wishes.ts';

const { sets } = wording;

const safetyWords = (safety: SetSafety): string =>
  safety.kind === 'unsaved' ? sets.unsaved(safety.trouble) : sets[safety.kind];

/** A set that is being worked on. */
interface Editing {
  readonly answer: SetAnswer;
  readonly wish: SetWish;
  readonly change: (wish: SetWish) => void;
}

/** What the whole set is called and plays. */
const WholeSet = ({ answer, wish, change }: Editing) => (
  <div className="fields">
    <div className="field">
      <label>
        <span>{sets.name}</span>{' '}
        <input
          type="text"
          maxLength={200}
          value={wish.title}
          placeholder={sets.nameHint}
          onChange={({ target }) => change({ ...wish, title: target.value })}
        />
      </label>
    </div>
    <div className="field">
      <label>
        <span>{sets.plays}</span>{' '}
        <select
          value={wish.plays ?? ''}
          onChange={({ target }) => change({ ...wish, plays: target.value === '' ? null : target.value })}
        >
          <option value="">{sets.fullest}</option>
          {answer.versions.map(({ id, name }) => (
            <option key={id} value={id}>
              {name}
            </option>
          ))}
        </select>
      </label>
    </div>
  </div>
);

/** The tunes in their order, and between them the corners. */
const Tunes = ({ answer, wish, change }: Editing) => {
  const { tunes } = wish;
  // What is known of a tune belongs to its lesson: while a new order is being saved it goes along.
  const shownOf = (lesson: string) => answer.tunes[answer.wish.tunes.findIndex((t) => t.lesson === lesson)];
  const isSame = tunes.every(({ lesson }, i) => answer.wish.tunes[i]?.lesson === lesson);
  return (
    <>
      {tunes.map((tune, i) => {
        const shown = shownOf(tune.lesson);
        const next = tunes[i + 1];
        return (
          // biome-ignore lint/suspicious/noArrayIndexKey: a lesson may come twice; its place tells which it is
          <div key={`${tune.lesson} ${i}`}>
            <TuneInSet
              tune={tune}
              shown={shown}
              index={i}
              count={tunes.length}
              change={(one) => change(withTune(wish, i, one))}
              move={(by) => change({ ...wish, tunes: [...moved(tunes, i, by)] })}
              takeOut={() => change({ ...wish, tunes: tunes.filter((_, k) => k !== i) })}
            />
            {next !== undefined && isSame && (
              <Corner
                id={answer.id}
                index={i}
                revision={answer.problems.length === 0 ? answer.revision : null}
                from={shown?.title ?? tune.lesson}
                to={shownOf(next.lesson)?.title ?? next.lesson}
                words={answer.tunes[i]?.corner ?? []}
                turn={tune.turn}
                setTurn={(turn) => change(withTune(wish, i, { turn }))}
              />
            )}
          </div>
        );
      })}
    </>
  );
};

const TopLine = ({ safety, wishes: { undo, redo } }: OpenSet) => (
  <p className="crumb">
    <Link to="/">{sets.back}</Link> <span role="status">{safetyWords(safety)}</span>{' '}
    <button type="button" className="word" disabled={undo === null} onClick={() => undo?.()}>
      {wording.undo}
    </button>
    <button type="button" className="word" disabled={redo === null} onClick={() => redo?.()}>
      {wording.redo}
    </button>
  </p>
);

/** A set: its tunes, how they go over into each other, its pack. */
export const SetPage = ({ id }: { readonly id: string }) => {
  const open = useSet(id);
  const [said, setSaid] = useState('');
  const { answer, trouble, safety } = open;
  const { now: wish, change } = open.wishes;
  if (answer === null || wish === null)
    return (
      <main className="page set">
        <p className="crumb">
          <Link to="/">{sets.back}</Link>
        </p>
        <p role={trouble === '' ? 'status' : 'alert'}>{trouble === '' ? wording.loading : trouble}</p>
      </main>
    );
  const remove = (): void => {
    server.removeSet(id).then(
      () => goTo('/'),
      (error: unknown) => setSaid(messageOf(error)),
    );
  };
  const length = answer.seconds === null ? null : Math.round(answer.seconds);
  const problems = [...answer.problems, ...(said === '' ? [] : [said]), ...(trouble === '' ? [] : [trouble])];
  return (
    <main className="page set">
      <TopLine {...open} />
      <h1>{answer.title}</h1>
      {length !== null && <p className="quiet">{sets.length(Math.floor(length / 60), length % 60)}</p>}
      {problems.map((problem) => (
        <p key={problem} className="trouble" role="alert">
          {problem}
        </p>
      ))}
      <WholeSet {...{ answer, wish, change }} />
      <Tunes {...{ answer, wish, change }} />
      {wish.tunes.length < SET_SIZE.most && (
        <details className="adding">
          <summary>{sets.addTune}</summary>
          <LessonFinder
            chosen={wish.tunes.map(({ lesson }) => lesson)}
            add={(card) => change({ ...wish, tunes: [...wish.tunes, usualTune(card.id)] })}
          />
        </details>
      )}
      <SetPack answer={answer} isSaved={safety.kind === 'saved'} />
      <p>
        <button type="button" className="word" onClick={remove}>
          {sets.remove}
        </button>
      </p>
    </main>
  );
};
