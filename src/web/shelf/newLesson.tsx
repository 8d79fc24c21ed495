import { type ChangeEvent, type DragEvent, useCallback, useRef, useState } from 'react';
import { Link } from '../link.tsx';
import { goTo, lessonAddress } from '../route.ts';
import { server } from '../server.ts';
import { wording } from '../wording/index.ts';
import { TuneChoice } from './tuneChoice.tsx';
import { messageOf, useTuneText } from './useTuneText.ts';

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

/** Begins a lesson: from text, or from a file. */
export const NewLesson = () => {
  const [chosen, setChosen] = useState<readonly number[]>([]);
  const [said, setSaid] = useState('');
  const [busy, setBusy] = useState(false);
  const { text, read, trouble, setText, takeFile } = useTuneText(({ tunes }) =>
    setChosen(tunes.length === 1 && tunes[0]?.unusable === null ? [0] : []),
  );
  const take = (file: File | undefined): void => {
    if (file === undefined) return;
    setBusy(true);
    void takeFile(file).finally(() => setBusy(false));
  };
  const make = async (): Promise<void> => {
    if (read === null || chosen.length === 0) return;
    setBusy(true);
    try {
      const { ids } = await server.make(read.abc, chosen);
      goTo(ids.length === 1 && ids[0] !== undefined ? lessonAddress(ids[0]) : '/');
    } catch (error) {
      setSaid(messageOf(error));
      setBusy(false);
    }
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
      {read !== null && <TuneChoice read={read} chosen={chosen} choose={setChosen} />}
      <p>
        <button
          type="button"
          className="do"
          disabled={busy || chosen.length === 0}
          onClick={() => void make()}
        >
          {making.make(Math.max(1, chosen.length))}
        </button>
      </p>
      <p className="quiet">{making.rights}</p>
    </main>
  );
};
