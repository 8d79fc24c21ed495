import { useState } from 'react';
import type { SetAnswer } from '../../protocol/index.ts';
import { BuildProgress } from '../panels/buildProgress.tsx';
import { OpenedPart } from '../panels/openedPart.tsx';
import { server, setFile, setZip } from '../server.ts';
import { messageOf } from '../shelf/useTuneText.ts';
import { wording } from '../wording/index.ts';

const { sets, pack } = wording;

/** What the learners of a set get: made, opened in its place, downloaded. */
export const SetPack = ({ answer, isSaved }: { readonly answer: SetAnswer; readonly isSaved: boolean }) => {
  const { id, build, files, isCurrent, folder, problems } = answer;
  const [opened, setOpened] = useState<SetAnswer['files'][number] | null>(null);
  const [said, setSaid] = useState('');
  const isBuilding = build.kind === 'building';
  const begin = (): void => {
    setSaid('');
    server.buildSet(id).catch((error: unknown) => setSaid(messageOf(error)));
  };
  return (
    <section className="pack">
      <h2>{sets.pack}</h2>
      <p className="quiet">{sets.packAbout}</p>
      <p className="quiet">{pack.folder(folder)}</p>
      <p>
        <button
          type="button"
          className="do"
          disabled={isBuilding || !isSaved || problems.length > 0}
          onClick={begin}
        >
          {files.length === 0 ? sets.build : sets.buildAgain}
        </button>
      </p>
      <BuildProgress build={build} stop={() => void server.stopSet(id)} />
      {said !== '' && (
        <p className="trouble" role="alert">
          {said}
        </p>
      )}
      {files.length > 0 && (
        <>
          <p>
            {isCurrent ? sets.current : sets.outOfDate}{' '}
            <a href={setZip(id)} download>
              {sets.zip}
            </a>
          </p>
          <ul className="parts">
            {files.map((file) => (
              <li key={file.path}>
                <span>{file.what.replace(/^track: /, '')}</span>{' '}
                <button
                  type="button"
                  className="word"
                  aria-label={pack.openOf(file.what)}
                  onClick={() => setOpened(file)}
                >
                  {pack.open}
                </button>
              </li>
            ))}
          </ul>
        </>
      )}
      {opened !== null && (
        <OpenedPart address={setFile(id, opened.path)} what={opened.what} close={() => setOpened(null)} />
      )}
    </section>
  );
};
