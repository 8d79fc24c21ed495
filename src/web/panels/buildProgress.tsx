import type { BuildState } from '../../protocol/index.ts';
import { wording } from '../wording/index.ts';

const { pack } = wording;

/** How the build goes, and how to stop it. */
export const BuildProgress = ({ build, stop }: { readonly build: BuildState; readonly stop: () => void }) => {
  if (build.kind === 'building')
    return (
      <div className="progress" role="status">
        <progress value={build.fraction} max={1} aria-label={pack.building} />
        <p>{pack.making(build.what, build.secondsLeft)}</p>
        <button type="button" className="word" onClick={stop}>
          {pack.stop}
        </button>
      </div>
    );
  const words =
    build.kind === 'done'
      ? build.failed.length === 0
        ? pack.done
        : pack.doneBut(build.failed)
      : build.kind === 'failed'
        ? build.message
        : build.kind === 'stopped'
          ? pack.stopped
          : '';
  return <p role="status">{words}</p>;
};
