import { type FormEvent, useEffect, useState } from 'react';
import { type BarRange, nameOfBar } from '../lesson/view.ts';
import { wording } from '../wording/index.ts';
import type { BarAct, BarOrnament, BarReport, BonesOfBar } from '../workroom/barMessages.ts';
import type { BarPlace } from '../workroom/messages.ts';
import type { Workroom } from '../workroom/workroom.ts';
import type { BarPartProps } from './barPart.ts';
import { NoteEdits } from './noteEdits.tsx';
import { WaysToPlay } from './waysToPlay.tsx';

interface BarProps {
  readonly bar: BarReport | null;
  readonly bars: readonly BarPlace[];
  readonly chosen: BarRange | null;
  /** Why the last act could not be done; empty: it could. */
  readonly trouble: string;
  readonly room: Pick<Workroom, 'look' | 'act' | 'edit' | 'writeChords' | 'try'>;
  /** Key of the note that was pointed at. */
  readonly note: string | null;
  readonly point: (note: string | null) => void;
  readonly choose: (range: BarRange) => void;
}

const { bar: words } = wording;

/** A bar of the teacher's own, typed. */
const OwnBar = ({
  bar,
  bones,
  everywhere,
  act,
  hear,
}: BarPartProps & { bones: BonesOfBar; everywhere: boolean }) => {
  const now = bones.choices.find((choice) => choice.isNow)?.abc ?? '';
  const [typed, setTyped] = useState(now);
  // biome-ignore lint/correctness/useExhaustiveDependencies: another bar, or another state of it, begins anew
  useEffect(() => setTyped(now), [now, bar.at]);
  const isSame = typed.trim() === now;
  const typedAct: BarAct = { kind: 'type', version: bones.version, at: bar.at, abc: typed, everywhere };
  const submit = (event: FormEvent): void => {
    event.preventDefault();
    act(typedAct);
  };
  return (
    <form className="own" onSubmit={submit}>
      <label>
        <span className="quiet">{words.own}</span>
        <input
          type="text"
          className="abc"
          value={typed}
          spellCheck={false}
          onChange={(event) => setTyped(event.target.value)}
        />
      </label>
      <button type="button" className="word" onClick={() => hear(typedAct, bar.at)}>
        {words.hear}
      </button>
      <button type="submit" className="word" disabled={isSame && bones.kept !== null}>
        {isSame ? words.keepAsItIs : words.keep}
      </button>
    </form>
  );
};

/** The bones of the bar: others to choose from, engraved; or one's own. */
const Bones = ({ bar, bones, act, hear }: BarPartProps & { bones: BonesOfBar }) => {
  const [everywhere, setEverywhere] = useState(false);
  const alike = bar.alike.length;
  return (
    <section className="group">
      <h3>{words.choices(bones.name)}</h3>
      <OwnBar {...{ bar, bones, everywhere, act, hear }} />
      <ol className="choices">
        {bones.choices.map((choice, i) => {
          const chosen: BarAct = {
            kind: 'choose',
            version: bones.version,
            at: bar.at,
            choice: i,
            everywhere,
          };
          return (
            <li key={choice.abc} className={choice.isNow ? 'now' : ''}>
              <img
                className="bar-picture"
                alt={choice.abc}
                src={`data:image/svg+xml;charset=utf-8,${encodeURIComponent(choice.picture)}`}
              />
              <p className="quiet">{choice.reason}</p>
              <p>
                <button
                  type="button"
                  className="word"
                  aria-label={words.hearOf(choice.abc)}
                  onClick={() => hear(chosen, bar.at)}
                >
                  {words.hear}
                </button>
                {choice.isNow ? (
                  <i>{words.now}</i>
                ) : (
                  <button
                    type="button"
                    className="word"
                    aria-label={words.takeOf(choice.abc)}
                    onClick={() => act(chosen)}
                  >
                    {words.take}
                  </button>
                )}
              </p>
            </li>
          );
        })}
      </ol>
      {alike > 0 && (
        <label className="tick">
          <input
            type="checkbox"
            checked={everywhere}
            onChange={(event) => setEverywhere(event.target.checked)}
          />
          <span>{words.everywhere(alike)}</span>
        </label>
      )}
      {bones.kept !== null && (
        <p>
          {bones.keptWords}{' '}
          <button
            type="button"
            className="word"
            onClick={() => act({ kind: 'forget', kept: bones.kept ?? 0 })}
          >
            {words.forget}
          </button>
        </p>
      )}
    </section>
  );
};

const OrnamentRow = ({ ornament, bar, act, hear }: BarPartProps & { ornament: BarOrnament }) => {
  const { what, about, entry, isAccepted } = ornament;
  const accept: BarAct = { kind: 'accept', entries: [entry] };
  return (
    <li>
      <b>{what}</b> <span className="quiet">{about}</span>
      <p>
        {!isAccepted && (
          <button
            type="button"
            className="word"
            aria-label={words.hearOf(what)}
            onClick={() => hear(accept, bar.at)}
          >
            {words.hear}
          </button>
        )}
        <button
          type="button"
          className="word"
          aria-label={isAccepted ? words.refuseOf(what) : words.acceptOf(what)}
          onClick={() => act(isAccepted ? { kind: 'refuse', entries: [entry] } : accept)}
        >
          {isAccepted ? words.refuse : words.accept}
        </button>
      </p>
    </li>
  );
};

const Ornaments = ({ bar, act, hear }: BarPartProps) => (
  <section className="group">
    <h3>{words.ornaments}</h3>
    {bar.ornaments.length === 0 && <p className="quiet">{words.noOrnaments}</p>}
    <ul className="ornaments">
      {bar.ornaments.map((ornament) => (
        <OrnamentRow
          key={`${ornament.entry.onset} ${ornament.entry.kind}`}
          {...{ ornament, bar, act, hear }}
        />
      ))}
    </ul>
    {bar.kinds.map(({ kind, name, count }) => (
      <button
        key={kind}
        type="button"
        className="word"
        onClick={() => act({ kind: 'acceptKind', ornament: kind })}
      >
        {words.acceptAll(count, name)}
      </button>
    ))}
  </section>
);

/** Which fingers stay down on the sheets, of those that go down in the bar: each once, with the versions that have it. */
const StayDowns = ({ bar, act }: Pick<BarPartProps, 'bar' | 'act'>) =>
  bar.stayDowns.length === 0 ? null : (
    <section className="group">
      <h3>{words.stayDowns}</h3>
      <p className="quiet">{words.stayDownsAbout}</p>
      {[...new Set(bar.stayDowns.map(({ reason }) => reason))].map((reason) => (
        <fieldset key={reason} className="stays">
          <legend>{reason}</legend>
          {bar.stayDowns
            .filter((one) => one.reason === reason)
            .map(({ version, name, shown, other }) => (
              <label key={`${version} ${other.onset}`} className="tick">
                <input
                  type="checkbox"
                  aria-label={words.stayDownIn(name, reason)}
                  checked={shown}
                  onChange={() => act({ kind: 'stayDown', choice: other })}
                />
                <span>{name}</span>
              </label>
            ))}
        </fieldset>
      ))}
    </section>
  );

const Sentences = ({ heading, lines }: { readonly heading: string; readonly lines: readonly string[] }) =>
  lines.length === 0 ? null : (
    <section className="group">
      <h3>{heading}</h3>
      {lines.map((line) => (
        <p key={line}>{line}</p>
      ))}
    </section>
  );

/** The teacher's own words on the bar, beside the drafted ones or in their place. */
const OwnNote = ({ bar, act }: Pick<BarPartProps, 'bar' | 'act'>) => {
  const { own, at } = bar;
  const [typed, setTyped] = useState(own.words);
  const [instead, setInstead] = useState(own.instead);
  // biome-ignore lint/correctness/useExhaustiveDependencies: another bar begins anew
  useEffect(() => {
    setTyped(own.words);
    setInstead(own.instead);
  }, [own.words, own.instead, at]);
  return (
    <form
      className="group"
      onSubmit={(event) => {
        event.preventDefault();
        act({ kind: 'note', at, words: typed, instead });
      }}
    >
      <label>
        <span>{words.ownNote}</span>
        <textarea
          className="said"
          rows={3}
          value={typed}
          onChange={(event) => setTyped(event.target.value)}
        />
      </label>
      <label className="tick">
        <input type="checkbox" checked={instead} onChange={(event) => setInstead(event.target.checked)} />
        <span>{words.instead}</span>
      </label>{' '}
      <button type="submit" className="word">
        {words.keepNote}
      </button>
    </form>
  );
};

/** Everything that is known of the chosen bar, and what can be done with it. */
export const BarPanel = ({ bar, bars, chosen, trouble, room, note, point, choose }: BarProps) => {
  const at = chosen?.from ?? null;
  const { look, act, try: hear } = room;
  useEffect(() => {
    look(at);
    return () => look(null);
  }, [at, look]);
  if (chosen === null) return <p className="empty">{words.none}</p>;
  if (bar === null || bar.at !== at) return <p role="status">{wording.loading}</p>;
  return (
    <div className="this-bar">
      <header className="which">
        <h3>{nameOfBar(bars, bar.at)}</h3>
        <p className="quiet">{words.all(bar.plain)}</p>
      </header>
      {chosen.to > chosen.from && <p className="quiet">{words.several}</p>}
      {trouble !== '' && (
        <p className="trouble" role="alert">
          {trouble}
        </p>
      )}
      {bar.bones.map((bones) => (
        <Bones key={bones.version} {...{ bar, bones, act, hear }} />
      ))}
      <WaysToPlay {...{ bar, act, hear }} />
      <NoteEdits
        written={bar.written}
        note={note}
        point={point}
        edit={room.edit}
        writeChords={room.writeChords}
      />
      <StayDowns {...{ bar, act }} />
      <Ornaments {...{ bar, act, hear }} />
      <Sentences heading={words.howHard} lines={[...bar.hard, ...bar.fit]} />
      <Sentences heading={words.notes} lines={bar.notes} />
      <OwnNote {...{ bar, act }} />
      {bar.alike.length > 0 && (
        <p>
          {words.alike}{' '}
          {bar.alike.map((other) => (
            <button
              key={other}
              type="button"
              className="word"
              onClick={() => choose({ from: other, to: other })}
            >
              {nameOfBar(bars, other)}
            </button>
          ))}
        </p>
      )}
    </div>
  );
};
