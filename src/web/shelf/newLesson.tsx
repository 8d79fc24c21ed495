import { type ChangeEvent, type DragEvent, useCallback, useRef, useState } from 'react';
import { Link } from '../link.tsx';
import { Words } from '../panels/field.tsx';
import { wording } from '../wording/index.ts';
import type { MakingStep } from './makeSome.ts';
import { NoTune } from './noTune.tsx';
import { TuneChoice } from './tuneChoice.tsx';
import { useMaking } from './useMaking.ts';
import { useTeacher } from './useTeacher.ts';
import { useTuneText } from './useTuneText.ts';

const { making } = wording;

/** What files are offered first; what is in them decides. */
const FILES = '.abc,.txt,.xml,.musicxml,.mxl,.mid,.midi';

/** Takes a file, from a window of the system or dropped on the page. */
const FileRow = ({ take }: { readonly take: (file: File | undefined) => void }) => {
  const choose = useRef<HTMLInputElement>(null);
  return (
    <p>
      {making.orFile}{' '}
      <button type="button" className="word" onClick={() => choose.current?.click()}>
        {making.choose}
      </button>{' '}
      <span className="quiet">{making.drop}</span>
      <input
        ref={choose}
        type="file"
        hidden
        accept={FILES}
        aria-label={making.choose}
        onChange={(event: ChangeEvent<HTMLInputElement>) => {
          take(event.target.files?.[0]);
          event.target.value = '';
        }}
      />
    </p>
  );
};

/** How many of the lessons are made, and an end to it. */
const HowFar = ({ step: { done, of }, stop }: { readonly step: MakingStep; readonly stop: () => void }) => (
  <p role="status">
    <progress value={done} max={of} aria-label={making.made(done, of)} /> {making.made(done, of)}{' '}
    <button type="button" className="word" onClick={stop}>
      {making.stop}
    </button>
  </p>
);

/** Begins a lesson: from text, or from a file. */
export const NewLesson = () => {
  const [chosen, setChosen] = useState<readonly number[]>([]);
  const { text, read, isReading, trouble, setText, takeFile } = useTuneText(({ tunes }) =>
    setChosen(tunes.length === 1 && tunes[0]?.unusable === null ? [0] : []),
  );
  const { step, said, make, stop } = useMaking();
  const [teacher, setTeacher] = useTeacher();
  const take = (file: File | undefined): void => {
    if (file !== undefined) void takeFile(file);
  };
  const drop = (event: DragEvent): void => {
    event.preventDefault();
    take(event.dataTransfer.files[0]);
  };
  const begin = useCallback((field: HTMLTextAreaElement | null) => field?.focus(), []);
  const complaint = said === '' ? trouble : said;
  return (
    <main className="page making" onDragOver={(event) => event.preventDefault()} onDrop={drop}>
      <p className="crumb">
        <Link to="/">{making.back}</Link>
      </p>
      <h1>{making.heading}</h1>
      <label className="paste">
        <span>{making.paste}</span>
        <textarea
          value={text}
          placeholder={making.placeholder}
          spellCheck={false}
          rows={14}
          ref={begin}
          onChange={(event) => setText(event.target.value)}
        />
      </label>
      <FileRow take={take} />
      {complaint !== '' && (
        <p className="trouble" role="alert">
          {complaint}
        </p>
      )}
      {isReading && (
        <p className="quiet" role="status">
          {making.reading}
        </p>
      )}
      {read !== null && read.tunes.length === 0 && <NoTune read={read} text={text} setText={setText} />}
      {read !== null && read.tunes.length > 0 && (
        <TuneChoice read={read} chosen={chosen} choose={setChosen} />
      )}
      <Words label={making.teacher} about={making.teacherAbout} value={teacher} set={setTeacher} />
      {step !== null && step.of > 1 && <HowFar step={step} stop={stop} />}
      <p>
        <button
          type="button"
          className="do"
          disabled={isReading || step !== null || chosen.length === 0}
          onClick={() => {
            if (read !== null) void make(read, chosen, teacher);
          }}
        >
          {making.make(Math.max(1, chosen.length))}
        </button>
      </p>
      <p className="quiet">{making.rights}</p>
    </main>
  );
};
