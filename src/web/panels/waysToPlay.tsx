import { type FormEvent, useEffect, useState } from 'react';
import type { WayPlayed } from '../../score/index.ts';
import { wording } from '../wording/index.ts';
import type { BarAct, WayOfBar } from '../workroom/barMessages.ts';
import type { BarPartProps } from './barPart.ts';
import { Choice, Tick } from './field.tsx';

const { bar: words } = wording;

interface WhenProps {
  readonly played: WayPlayed;
  readonly printed: boolean;
  readonly change: (to: { readonly played?: WayPlayed; readonly printed?: boolean }) => void;
}

/** When a way is played, and whether it is printed. */
const When = ({ played, printed, change }: WhenProps) => (
  <>
    <Choice
      label={words.played}
      value={played}
      of={words.playedWhen}
      set={(value) => change({ played: value })}
    />
    <Tick label={words.printedSmall} checked={printed} set={(on) => change({ printed: on })} />
  </>
);

/** A way that is kept: seen, heard, said when it is played and whether it is printed. */
const Way = ({ way, bar, act, hear }: BarPartProps & { readonly way: WayOfBar }) => (
  <li>
    <img
      className="bar-picture"
      alt={way.abc}
      src={`data:image/svg+xml;charset=utf-8,${encodeURIComponent(way.picture)}`}
    />
    <p className="quiet">{way.name}</p>
    {way.remark !== '' && <p>{way.remark}</p>}
    <When
      played={way.played}
      printed={way.printed}
      change={(to) => act({ kind: 'changeWay', way: way.way, ...to })}
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

/** One more way, typed; it begins with the bar's own notes. */
const NewWay = ({ bar, act, hear }: BarPartProps) => {
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
        <Choice
          label={words.wayFor}
          value={own?.version ?? ''}
          of={bar.versions.map((v) => [v.version, v.name] as const)}
          set={setVersion}
        />
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
      <When
        played={played}
        printed={printed}
        change={(to) => {
          setPlayed(to.played ?? played);
          setPrinted(to.printed ?? printed);
        }}
      />
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
export const WaysToPlay = (props: BarPartProps) => (
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
