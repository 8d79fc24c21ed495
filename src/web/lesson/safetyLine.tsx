import type { DeskState } from '../desk/deskState.ts';
import type { LessonDesk } from '../desk/lessonDesk.ts';
import { wording } from '../wording/index.ts';

const { safety } = wording;

const wordsFor = ({ safety: how, trouble }: DeskState): string => {
  switch (how) {
    case 'saved':
      return safety.saved;
    case 'saving':
      return safety.saving;
    case 'waiting':
      return safety.waiting;
    case 'refused':
      return safety.refused(trouble);
    default:
      return how satisfies never;
  }
};

/** Whether the lesson is saved, in words. */
export const SafetyLine = ({ state }: { readonly state: DeskState }) => (
  <span className={`safety ${state.safety}`} role="status">
    {wordsFor(state)}
  </span>
);

/** What came from elsewhere, and what somebody has to decide. */
export const Elsewhere = ({ state, desk }: { readonly state: DeskState; readonly desk: LessonDesk }) => {
  if (state.clash !== null)
    return (
      <div className="notice" role="alertdialog" aria-label={safety.clash}>
        <p>
          {safety.clash} {safety.either}
        </p>
        <button type="button" className="word" onClick={() => desk.settle('mine')}>
          {safety.mine}
        </button>
        <button type="button" className="word" onClick={() => desk.settle('theirs')}>
          {safety.theirs}
        </button>
      </div>
    );
  return state.notice === '' ? null : (
    <p className="notice" role="status">
      {state.notice}{' '}
      <button type="button" className="word" onClick={desk.dismissNotice}>
        {safety.good}
      </button>
    </p>
  );
};
