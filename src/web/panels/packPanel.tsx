import { useCallback, useEffect, useMemo, useState } from 'react';
import { type Audience, GROUPS, type Group, type PackAnswer, type PackPart } from '../../protocol/index.ts';
import { useNews } from '../newsroom.ts';
import { packFile, packZip, server } from '../server.ts';
import { wording } from '../wording/index.ts';
import { BuildProgress } from './buildProgress.tsx';
import { OpenedPart } from './openedPart.tsx';
import { PackParts } from './packParts.tsx';

interface PackProps {
  readonly id: string;
  /** Changes when the lesson was saved anew: the parts' states are asked for again. */
  readonly saved: boolean;
  readonly setAudience: (part: PackPart, audience: Audience) => void;
}

const { pack } = wording;

const messageOf = (error: unknown): string => (error instanceof Error ? error.message : String(error));

/** How many files parts are. */
const filesOf = (parts: readonly PackPart[]): number =>
  parts.reduce((sum, { paths }) => sum + paths.length, 0);

/** Seconds until the first part is begun. Ours: measured. */
const STARTING = 3;

/** The pack as it stands, kept up to date. */
const usePack = (id: string, saved: boolean) => {
  const [answer, setAnswer] = useState<PackAnswer | null>(null);
  const [said, setSaid] = useState('');
  const look = useCallback(
    () => server.pack(id).then(setAnswer, (error: unknown) => setSaid(messageOf(error))),
    [id],
  );
  useEffect(() => {
    if (saved) void look();
  }, [saved, look]);
  useNews(
    useMemo(
      () => ({
        news: (told) => {
          if (told.kind !== 'build' || told.id !== id) return;
          setAnswer((before) => (before === null ? before : { ...before, build: told.build }));
          if (told.build.kind !== 'building') void look();
        },
        there: (there) => {
          if (there) void look();
        },
      }),
      [id, look],
    ),
  );
  return { answer, said, setSaid };
};

/** A letter's draft for each group, fetched when asked for. */
const Letters = ({ id }: { readonly id: string }) => {
  const [letter, setLetter] = useState<{ readonly to: Group; readonly text: string } | null>(null);
  const [said, setSaid] = useState('');
  const draft = (to: Group): void => {
    server.letter(id, to).then(
      ({ text }) => setLetter({ to, text }),
      (error: unknown) => setSaid(messageOf(error)),
    );
  };
  return (
    <section className="group">
      <h3>{pack.letters}</h3>
      <p>
        {GROUPS.map((to) => (
          <button key={to} type="button" className="word" onClick={() => draft(to)}>
            {pack.letterTo(to)}
          </button>
        ))}
      </p>
      <p role="status">{said}</p>
      {letter !== null && (
        <>
          <textarea readOnly rows={12} value={letter.text} aria-label={pack.letterTo(letter.to)} />
          <button
            type="button"
            className="word"
            onClick={() => void navigator.clipboard.writeText(letter.text)}
          >
            {pack.copy}
          </button>
        </>
      )}
    </section>
  );
};

/** How long parts take together; starting takes a little, too. */
const secondsFor = (parts: readonly PackPart[]): number =>
  STARTING + parts.reduce((sum, { seconds }) => sum + seconds, 0);

/** What the learners get: choose, build, look, hand out. */
export const PackPanel = ({ id, saved, setAudience }: PackProps) => {
  const { answer, said, setSaid } = usePack(id, saved);
  const [left, setLeft] = useState<ReadonlySet<string>>(new Set());
  const [opened, setOpened] = useState<{ readonly path: string; readonly what: string } | null>(null);
  if (answer === null) return <p role="status">{said === '' ? wording.loading : said}</p>;
  const wanted = answer.parts.filter((part) => !left.has(part.id));
  const due = wanted.filter((part) => part.state !== 'current');
  const isBuilding = answer.build.kind === 'building';
  const build = (parts: readonly PackPart[]): void => {
    setSaid('');
    server
      .build(
        id,
        parts.map((part) => part.id),
      )
      .catch((error: unknown) => setSaid(messageOf(error)));
  };
  const hasFiles = answer.parts.some((part) => part.state !== 'missing');
  return (
    <div className="pack">
      <p className="quiet">{pack.folder(answer.folder)}</p>
      <p>
        <button
          type="button"
          className="do"
          disabled={isBuilding || due.length === 0 || !saved}
          onClick={() => build(due)}
        >
          {due.length === 0 ? pack.nothingDue : pack.build(filesOf(due))}
        </button>
      </p>
      {!isBuilding && due.length > 0 && <p className="quiet">{pack.about(secondsFor(due))}</p>}
      <BuildProgress build={answer.build} stop={() => void server.stopBuild(id)} />
      {said !== '' && (
        <p className="trouble" role="alert">
          {said}
        </p>
      )}
      {hasFiles && (
        <p className="zips">
          <a href={packZip(id, 'all')} download>
            {pack.wholeZip}
          </a>
          {GROUPS.map((group) => (
            <a key={group} href={packZip(id, group)} download>
              {pack.zipFor(group)}
            </a>
          ))}
        </p>
      )}
      {opened !== null && (
        <OpenedPart address={packFile(id, opened.path)} what={opened.what} close={() => setOpened(null)} />
      )}
      <p className="quiet">{pack.groups}</p>
      <PackParts
        parts={answer.parts}
        left={left}
        leave={setLeft}
        open={setOpened}
        rebuild={(part) => build([part])}
        isBuilding={isBuilding}
        setAudience={setAudience}
      />
      <Letters id={id} />
    </div>
  );
};
