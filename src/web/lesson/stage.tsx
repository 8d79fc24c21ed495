import type { ReactNode } from 'react';
import { heardIn } from '../play/usePlay.ts';
import { wording } from '../wording/index.ts';
import type { LadderStep } from '../workroom/messages.ts';
import type { Work } from './useWork.ts';
import { VersionRow } from './versionRow.tsx';
import type { View } from './view.ts';

interface StageProps {
  readonly work: Work;
  readonly view: View;
  readonly change: (next: Partial<View>) => void;
  /** The ladder itself. */
  readonly children: ReactNode;
}

/** Steps in the music's size, and its range. */
const SIZE = { step: 1.25, least: 0.64, most: 2.5 } as const;

const { ladder } = wording;

/** What the shades mean, how the versions that are heard go together, and the music's size. */
const Legend = ({
  steps,
  isLate,
  view,
  change,
}: { readonly steps: readonly LadderStep[]; readonly isLate: boolean } & Omit<
  StageProps,
  'work' | 'children'
>) => {
  const heard = heardIn(view, steps);
  const fits = steps.filter((step) => step.fit !== '' && heard.includes(step.id) && heard.length > 1);
  const same = steps.flatMap((step, i): readonly (readonly [string, string])[] => {
    const simpler = steps[i - 1];
    return simpler !== undefined && step.added.length === 0 ? [[step.name, simpler.name]] : [];
  });
  const resize = (word: string, size: number) => (
    <button
      type="button"
      className="word"
      onClick={() => change({ size: Math.min(SIZE.most, Math.max(SIZE.least, size)) })}
    >
      {word}
    </button>
  );
  return (
    <p className="quiet legend">
      <span className="swatch" aria-hidden="true" />{' '}
      <span role="status">{isLate ? ladder.late : ladder.shaded}</span>
      {same.map(([name, simpler]) => (
        <span key={name}>{ladder.nothingNew(name, simpler)}</span>
      ))}
      {fits.map((step) => (
        <span key={step.id}>{ladder.fit(step.name, step.fit)}</span>
      ))}
      <span className="sizes">
        {resize(ladder.smaller, view.size / SIZE.step)}
        {resize(ladder.larger, view.size * SIZE.step)}
      </span>
    </p>
  );
};

/** The versions and their music, or why there is none. */
export const Stage = ({ work, view, change, children }: StageProps) => (
  <>
    {work.nothing !== null && (
      <p className="trouble" role="alert">
        {work.nothing.message}
      </p>
    )}
    {work.ladder === null ? (
      <p role="status">{work.nothing === null ? ladder.working : ''}</p>
    ) : (
      <>
        <VersionRow steps={work.ladder.steps} view={view} change={change} />
        <Legend steps={work.ladder.steps} isLate={work.isLate} view={view} change={change} />
        {children}
      </>
    )}
  </>
);
