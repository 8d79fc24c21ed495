import { heardIn } from '../play/usePlay.ts';
import { wording } from '../wording/index.ts';
import type { LadderStep } from '../workroom/messages.ts';
import type { View } from './view.ts';

interface RowProps {
  readonly steps: readonly LadderStep[];
  readonly view: View;
  readonly change: (next: Partial<View>) => void;
}

const { ladder } = wording;

/** The view with a version heard or not; one is always heard. */
const hearing = (view: View, steps: readonly LadderStep[], id: string): Partial<View> => {
  const heard = heardIn(view, steps);
  const next = heard.includes(id) ? heard.filter((h) => h !== id) : [...heard, id];
  return { heard: next.length === 0 ? [id] : next };
};

/** The view with a version's staves shown or hidden; one is always shown. */
export const showing = (view: View, steps: readonly LadderStep[], id: string): Partial<View> => {
  const hidden = view.hidden.includes(id) ? view.hidden.filter((h) => h !== id) : [...view.hidden, id];
  return steps.every((step) => hidden.includes(step.id)) ? {} : { hidden };
};

/** The versions: which are seen, which are heard, how hard they are. */
export const VersionRow = ({ steps, view, change }: RowProps) => {
  const heard = heardIn(view, steps);
  return (
    <ul className="versions" aria-label={ladder.versions}>
      {steps.map((step) => (
        <li key={step.id}>
          <b>{step.name}</b>
          <span className="quiet">{step.difficulty}</span>
          <span className="toggles">
            <button
              type="button"
              className="word"
              aria-label={ladder.show(step.name)}
              aria-pressed={!view.hidden.includes(step.id)}
              onClick={() => change(showing(view, steps, step.id))}
            >
              {ladder.seen}
            </button>
            <button
              type="button"
              className="word"
              aria-label={ladder.hear(step.name)}
              aria-pressed={heard.includes(step.id)}
              onClick={() => change(hearing(view, steps, step.id))}
            >
              {ladder.heard}
            </button>
          </span>
        </li>
      ))}
    </ul>
  );
};
