import { useEffect, useState } from 'react';
import type { NoteEdit } from '../../notation/index.ts';
import type { Bow, Finger, OrnamentSign } from '../../score/index.ts';
import { wording } from '../wording/index.ts';
import type { BarNotePlace } from '../workroom/barMessages.ts';
import { Choice, Tick } from './field.tsx';

interface NoteProps {
  readonly written: readonly BarNotePlace[];
  /** Key of the note that was pointed at. */
  readonly note: string | null;
  readonly point: (note: string) => void;
  readonly edit: (edit: NoteEdit) => void;
  /** Writes the chords of the backing into the text. */
  readonly writeChords: () => void;
}

const { note: words } = wording;

type FingerChoice = 'none' | '0' | '1' | '2' | '3' | '4';
/** The fingers that can play the note, with their strings; a written one that can't stays to be seen. */
const fingersFor = ({ hands, finger }: BarNotePlace): readonly (readonly [FingerChoice, string])[] => [
  ['none', words.none],
  ...hands.map((hand) => [String(hand.finger) as FingerChoice, hand.where] as const),
  ...(finger === null || hands.some((hand) => hand.finger === finger)
    ? []
    : [[String(finger) as FingerChoice, words.asWritten(finger)] as const]),
];
const BOWS: readonly (readonly [Bow | 'none', string])[] = [
  ['none', words.none],
  ['down', words.down],
  ['up', words.up],
];
const SIGNS = Object.keys(words.signs) as readonly OrnamentSign[];

/** The chord over the note, typed. */
const ChordField = ({
  at,
  edit,
  writeChords,
}: { readonly at: BarNotePlace } & Pick<NoteProps, 'edit' | 'writeChords'>) => {
  const [typed, setTyped] = useState(at.chord);
  // biome-ignore lint/correctness/useExhaustiveDependencies: another note begins anew
  useEffect(() => setTyped(at.chord), [at.chord, at.key]);
  return (
    <form
      className="own"
      onSubmit={(event) => {
        event.preventDefault();
        edit({ kind: 'chord', at: at.address, text: typed.trim() === '' ? null : typed.trim() });
      }}
    >
      <label>
        <span>{words.chord}</span>
        <input type="text" value={typed} maxLength={20} onChange={(event) => setTyped(event.target.value)} />
      </label>
      <button type="submit" className="word">
        {words.takeChord}
      </button>
      <p className="quiet">
        {words.chordAbout}{' '}
        <button type="button" className="word" onClick={writeChords}>
          {words.writeChords}
        </button>
      </p>
    </form>
  );
};

/** What can be changed at one note. */
const OneNote = ({
  at,
  edit,
  writeChords,
}: { readonly at: BarNotePlace } & Pick<NoteProps, 'edit' | 'writeChords'>) => {
  const here = [at.address];
  const act = (word: string, change: NoteEdit) => (
    <button type="button" className="word" onClick={() => edit(change)}>
      {word}
    </button>
  );
  const { next } = at;
  return (
    <div className="one-note">
      {at.hand !== '' && <p className="quiet">{words.hand(at.hand)}</p>}
      <div className="pair">
        <Choice
          label={words.finger}
          value={at.finger === null ? 'none' : (String(at.finger) as FingerChoice)}
          of={fingersFor(at)}
          set={(value) =>
            edit({ kind: 'finger', at: here, finger: value === 'none' ? null : (Number(value) as Finger) })
          }
        />
        <Choice
          label={words.bow}
          value={at.bow ?? 'none'}
          of={BOWS}
          set={(value) => edit({ kind: 'bow', at: here, bow: value === 'none' ? null : value })}
        />
      </div>
      <ChordField at={at} edit={edit} writeChords={writeChords} />
      {next !== null && (
        <Tick
          label={words.slur}
          checked={at.slurred}
          set={(on) => edit({ kind: 'slur', from: at.address, to: next, on })}
        />
      )}
      <fieldset className="signs-field">
        <legend>{words.sign}</legend>
        {SIGNS.map((sign) => (
          <Tick
            key={sign}
            label={words.signs[sign]}
            checked={at.signs.includes(sign)}
            set={(on) => edit({ kind: 'sign', at: here, sign, on })}
          />
        ))}
      </fieldset>
      <p>
        {act(words.stepUp, { kind: 'step', at: here, by: 1 })}
        {act(words.stepDown, { kind: 'step', at: here, by: -1 })}
        {act(words.octaveUp, { kind: 'octave', at: here, by: 1 })}
        {act(words.octaveDown, { kind: 'octave', at: here, by: -1 })}
        {next !== null && act(words.double, { kind: 'length', at: at.address, times: 'double', with: next })}
        {next !== null && act(words.half, { kind: 'length', at: at.address, times: 'half', with: next })}
      </p>
    </div>
  );
};

/** The notes of the bar as they are written, and what can be changed at the one that was pointed at. */
export const NoteEdits = ({ written, note, point, edit, writeChords }: NoteProps) => {
  const at = written.find((one) => one.key === note);
  return (
    <section className="group">
      <h3>{words.heading}</h3>
      <p className="quiet">{words.which}</p>
      <p className="note-row">
        {written.map((one) => (
          <button
            key={one.key}
            type="button"
            className="word"
            aria-pressed={one.key === note}
            onClick={() => point(one.key)}
          >
            {one.name}
          </button>
        ))}
      </p>
      {at !== undefined && <OneNote at={at} edit={edit} writeChords={writeChords} />}
    </section>
  );
};
