import type { DeskState } from '../desk/deskState.ts';
import type { LessonDesk } from '../desk/lessonDesk.ts';
import { Link } from '../link.tsx';
import { wording } from '../wording/index.ts';
import { PANEL_NAMES } from './panelBeside.tsx';
import { SafetyLine } from './safetyLine.tsx';
import type { PanelName } from './view.ts';

interface TopProps {
  readonly title: string;
  readonly summary: string;
  readonly state: DeskState;
  readonly desk: LessonDesk;
  readonly opened: PanelName | null;
  readonly open: (name: PanelName) => void;
}

/** Undo or redo; says what it would take back. */
const Step = ({
  word,
  what,
  act,
}: {
  readonly word: string;
  /** "Undo typing"; null: nothing is there. */
  readonly what: string | null;
  readonly act: () => void;
}) => (
  <button type="button" className="word" disabled={what === null} title={what ?? ''} onClick={act}>
    {word}
  </button>
);

/** What the lesson is, whether it is saved, and the words that open something beside the music. */
export const TopBar = ({ title, summary, state, desk, opened, open }: TopProps) => {
  const undo = state.stack.done.at(-1);
  const redo = state.stack.undone.at(-1);
  return (
    <header className="top">
      <p className="crumb">
        <Link to="/">{wording.shelf.heading}</Link>
      </p>
      <div className="title">
        <h1>{title}</h1>
        <p className="quiet">{summary}</p>
      </div>
      <div className="doing">
        <SafetyLine state={state} />
        <Step
          word={wording.undo}
          what={undo === undefined ? null : wording.undoWhat(undo.what)}
          act={desk.undo}
        />
        <Step
          word={wording.redo}
          what={redo === undefined ? null : wording.redoWhat(redo.what)}
          act={desk.redo}
        />
      </div>
      <nav className="panels" aria-label={wording.panels.beside}>
        {PANEL_NAMES.map((name) => (
          <button
            key={name}
            type="button"
            className="word"
            aria-pressed={opened === name}
            onClick={() => open(name)}
          >
            {wording.panels[name]}
          </button>
        ))}
      </nav>
    </header>
  );
};
