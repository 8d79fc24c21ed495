import { type Alter, type Pitch, STEPS } from '../../music/index.ts';
import { addressKey, type GraceNotes, type Mark, type Note } from '../../score/index.ts';
import type { NoteValue } from '../noteValues.ts';
import type { PrintedAccidental } from '../printedAccidentals.ts';
import { elementIdOf } from './elementId.ts';
import type { Piece } from './pieces.ts';
import { type Attributes, element } from './xml.ts';

/** @dur of a note value. Source: MEI 5.1, data.DURATION.cmn. */
const DURATIONS: Readonly<Partial<Record<NoteValue, string>>> = {
  long: 'long',
  breve: 'breve',
  whole: '1',
  half: '2',
  quarter: '4',
  eighth: '8',
};

/** Answers "which @dur?": "4" for a crotchet. Source: MEI 5.1, data.DURATION.cmn. */
export const durationOf = (value: NoteValue): string => DURATIONS[value] ?? value.replace(/\D/g, '');

/** Source: MEI 5.1, data.ACCIDENTAL.WRITTEN. */
const WRITTEN: Readonly<Record<Alter, string>> = { [-2]: 'ff', [-1]: 'f', 0: 'n', 1: 's', 2: 'x' };
/** Source: MEI 5.1, data.ACCIDENTAL.GESTURAL. */
const SOUNDING: Readonly<Record<Alter, string>> = { [-2]: 'ff', [-1]: 'f', 0: 'n', 1: 's', 2: 'ss' };

const accidentalOf = (pitch: Pitch, printed: PrintedAccidental | null | undefined): readonly string[] => {
  if (printed != null)
    return [
      element('accid', {
        accid: WRITTEN[printed.alter],
        ...(printed.courtesy ? { func: 'caution', enclose: 'paren' } : {}),
      }),
    ];
  return pitch.alter === 0 ? [] : [element('accid', { 'accid.ges': SOUNDING[pitch.alter] })];
};

const pitchAttributes = (pitch: Pitch): Attributes => ({
  pname: (STEPS.find((s) => s === pitch.step) ?? 'C').toLowerCase(),
  oct: pitch.octave,
});

/** @artic of our marks. Source: MEI 5.1, data.ARTICULATION. */
const ARTICULATIONS: Readonly<Partial<Record<Mark, string>>> = {
  staccato: 'stacc',
  accent: 'acc',
  tenuto: 'ten',
};

/** Bow signs stand above the staff, whichever way the stem goes: common practice of fiddle music. */
const articulationsOf = (note: Note): readonly string[] => [
  ...note.marks.flatMap((mark) => {
    const artic = ARTICULATIONS[mark];
    return artic === undefined ? [] : [element('artic', { artic })];
  }),
  ...(note.bow === null
    ? []
    : [element('artic', { artic: note.bow === 'down' ? 'dnbow' : 'upbow', place: 'above' })]),
];

const versesOf = (note: Note): readonly string[] => {
  if (note.lyric === null || note.lyric === '') return [];
  const open = note.lyric.endsWith('-');
  const text = open ? note.lyric.slice(0, -1) : note.lyric;
  const syllable = element('syl', open ? { con: 'd', wordpos: 'i' } : {}, [escapeText(text)]);
  return [element('verse', { n: 1 }, [syllable])];
};

const escapeText = (text: string): string =>
  text.replace(/&/g, '&amp;').replace(/</g, '&lt;').replace(/>/g, '&gt;');

/** Ids of an event's pitches, the melody's first. */
export const pitchIdsOf = (piece: Piece): readonly string[] => {
  const { event } = piece;
  if (event.kind === 'rest') return [];
  return event.pitches.map((_, tone) => (tone === 0 ? piece.id : `${piece.id}.t${tone}`));
};

/** A note, a chord or a rest, without the grace notes before it. */
export const eventElement = (piece: Piece): string => {
  const { event, value } = piece;
  const duration: Attributes = {
    dur: durationOf(value.value),
    dots: value.dots === 0 ? undefined : value.dots,
  };
  if (event.kind === 'rest')
    return element(event.visible ? 'rest' : 'space', { 'xml:id': piece.id, ...duration });
  const ids = pitchIdsOf(piece);
  const above = piece.first ? articulationsOf(event) : [];
  const below = piece.first ? versesOf(event) : [];
  const heads = event.pitches.map((pitch, tone) => ({
    attributes: { 'xml:id': ids[tone], ...pitchAttributes(pitch) },
    accidental: accidentalOf(pitch, piece.accidentals.pitches[tone]),
  }));
  const [only] = heads;
  if (heads.length === 1 && only !== undefined)
    return element('note', { ...only.attributes, ...duration }, [...only.accidental, ...above, ...below]);
  const notes = heads.map((h) => element('note', h.attributes, h.accidental));
  return element('chord', { 'xml:id': piece.anchor, ...duration }, [...above, ...notes, ...below]);
};

const graceNote = (piece: Piece, graces: GraceNotes, at: number, version: string): string => {
  const pitch = graces.pitches[at];
  if (pitch === undefined) throw new RangeError(`${addressKey(piece.address)} has no grace note ${at}`);
  const single = graces.pitches.length === 1;
  return element(
    'note',
    {
      'xml:id': elementIdOf(version, { ...piece.address, grace: at }),
      grace: graces.slashed ? 'unacc' : 'unknown',
      dur: single ? '8' : '16',
      ...pitchAttributes(pitch),
      'stem.dir': 'up',
    },
    accidentalOf(pitch, piece.accidentals.graces[at]),
  );
};

/** The grace notes before a piece, one by one; empty where there are none. */
export const graceNotesOf = (piece: Piece, version: string): readonly string[] => {
  const { event } = piece;
  if (event.kind === 'rest' || event.graces === null || !piece.first) return [];
  const { graces } = event;
  return graces.pitches.map((_, at) => graceNote(piece, graces, at, version));
};

/** Grace notes as a group, beamed where they are several. */
export const graceGroup = (notes: readonly string[]): readonly string[] =>
  notes.length === 0
    ? []
    : [element('graceGrp', {}, notes.length === 1 ? notes : [element('beam', {}, notes)])];
