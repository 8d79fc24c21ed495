import { type FormEvent, useEffect, useId, useState } from 'react';
import type { WayPlayed } from '../../score/index.ts';
import { wording } from '../wording/index.ts';
import type { BarAct, BarReport, WayOfBar } from '../workroom/barMessages.ts';

const { bar: words } = wording;

interface WaysProps {
  readonly bar: BarReport;
  readonly act: (act: BarAct) => void;
  readonly hear: (act: BarAct, at: number) => void;
}

/** When a way is played. */
const PlayedWhen = ({
  id,
  value,
  change,
}: {
  readonly id: string;
  readonly value: WayPlayed;
  readonly change: (played: WayPlayed) => void;
}) => (
  <p>
    <label htmlFor={id}>{words.played}</label>{' '}
    <select
      id={id}
      value={value}
      onChange={(event) => {
        const chosen = words.playedWhen.find(([key]) => key === event.target.value);
        if (chosen !== undefined) change(chosen[0]);
      }}
    >
      {words.playedWhen.map(([key, name]) => (
        <option key={key} value={key}>
          {name}
        </option>
      ))}
    </select>
  </p>
);

const Printed = ({
  checked,
  change,
}: {
  readonly checked: boolean;
  readonly change: (on: boolean) => void;
}) => (
  <label className="tick">
    <input type="checkbox" checked={checked} onChange={(event) => change(event.target.checked)} />
    <span>{words.printedSmall}</span>
  </label>
);

/** A way that is kept: seen, heard, said when it is played and whether it is printed. */
const Way = ({ way, bar, act, hear }: WaysProps & { readonly way: WayOfBar }) => {
  const id = useId();
  return (
    <li>
      <img
        className="bar-picture"
        alt={way.abc}
        src={`data:image/svg+xml;charset=utf-8,${encodeURIComponent(way.picture)}`}
      />
      <p className="quiet">{way.name}</p>
      {way.remark !== '' && <p>{way.remark}</p>}
      <PlayedWhen
        id={id}
        value={way.played}
        change={(played) => act({ kind: 'changeWay', way: way.way, played })}
      />
      <Printed
        checked={way.printed}
        change={(printed) => act({ kind: 'changeWay', way: way.way, printed })}
      />
      <p>
        <button
          type="button"
          className="word"
          aria-label={words.hearOf(way.abc)}
          onClick={() => hear({ kind: 'changeWay', way: way.way, played: 'everyTime' }, bar.at)}
        >
          {words.hear}
        </button>
        <button
          type="button"
          className="word"
          aria-label={words.dropWayOf(way.abc)}
          onClick={() => act({ kind: 'dropWay', way: way.way })}
        >
          {words.dropWay}
        </button>
      </p>
    </li>
  );
};

/** One more way, typed; it begins with the bar's own notes. */
const NewWay = ({ bar, act, hear }: WaysProps) => {
  const id = useId();
  const fullest = bar.versions.at(-1);
  const [version, setVersion] = useState(fullest?.version ?? '');
  const own = bar.versions.find((v) => v.version === version) ?? fullest;
  const [typed, setTyped] = useState(own?.abc ?? '');
  const [played, setPlayed] = useState<WayPlayed>('secondTimes');
  const [printed, setPrinted] = useState(true);
  // biome-ignore lint/correctness/useExhaustiveDependencies: another bar or version, or one more way, begins anew
  useEffect(() => setTyped(own?.abc ?? ''), [own?.abc, bar.at, bar.ways.length]);
  const isSame = typed.trim() === own?.abc;
  const add: BarAct = {
    kind: 'addWay',
    version: own?.version ?? '',
    at: bar.at,
    abc: typed,
    played,
    printed,
  };
  const submit = (event: FormEvent): void => {
    event.preventDefault();
    act(add);
  };
  return (
    <form className="new-way" onSubmit={submit}>
      {bar.versions.length > 1 && (
        <p>
          <label htmlFor={`${id}for`}>{words.wayFor}</label>{' '}
          <select id={`${id}for`} value={own?.version} onChange={(event) => setVersion(event.target.value)}>
            {bar.versions.map((v) => (
              <option key={v.version} value={v.version}>
                {v.name}
              </option>
            ))}
          </select>
        </p>
      )}
      <label>
        <span className="quiet">{words.wayAbc}</span>
        <input
          type="text"
          className="abc"
          value={typed}
          spellCheck={false}
          onChange={(event) => setTyped(event.target.value)}
        />
      </label>
      <PlayedWhen id={`${id}when`} value={played} change={setPlayed} />
      <Printed checked={printed} change={setPrinted} />
      <button type="button" className="word" onClick={() => hear({ ...add, played: 'everyTime' }, bar.at)}>
        {words.hear}
      </button>
      <button type="submit" className="word" disabled={isSame}>
        {words.addWay}
      </button>
    </form>
  );
};

/** Several ways to play the bar, side by side: which is printed, which is played when. */
export const WaysToPlay = (props: WaysProps) => (
  <section className="group">
    <h3>{words.ways}</h3>
    {props.bar.ways.length === 0 && <p className="quiet">{words.noWays}</p>}
    <ul className="choices">
      {props.bar.ways.map((way) => (
        <Way key={way.way} {...props} way={way} />
      ))}
    </ul>
    <NewWay {...props} />
  </section>
);
