import { type Diagnostic, wholeNotes } from '../../../core/index.ts';
import { metre, NO_KEY } from '../../../music/index.ts';
import { assembleParts, type Field, type LooseBar, type Score } from '../../../score/index.ts';
import type { ImportedTune } from '../../importedTune.ts';
import { type XmlElement, xml } from '../../xml.ts';
import { attributeOf, childrenNamed, elementAt, textAt, textOf } from '../../xmlTree.ts';
import { type Running, readMeasure, voiceOf } from './readMeasure.ts';

/** More measures than any dance tune has; a symphony is no tune. Ours. */
const MOST_MEASURES = 5000;

/** Parts of a timewise document: its measures turned inside out. */
const partsOfTimewise = (root: XmlElement): readonly XmlElement[] => {
  const parts = new Map<string, XmlElement[]>();
  for (const measure of childrenNamed(root, 'measure')) {
    for (const part of childrenNamed(measure, 'part')) {
      const id = attributeOf(part, 'id') ?? '';
      parts.set(id, [...(parts.get(id) ?? []), xml('measure', measure.attributes, part.children)]);
    }
  }
  return [...parts].map(([id, measures]) => xml('part', { id }, measures));
};

const pitchedNotes = (part: XmlElement): readonly XmlElement[] =>
  childrenNamed(part, 'measure')
    .flatMap((measure) => childrenNamed(measure, 'note'))
    .filter((note) => elementAt(note, 'pitch') !== null);

const nameOfPart = (root: XmlElement, part: XmlElement): string => {
  const id = attributeOf(part, 'id') ?? '';
  const listed = childrenNamed(elementAt(root, 'part-list') ?? root, 'score-part');
  const found = listed.find((p) => attributeOf(p, 'id') === id);
  return (found === undefined ? null : textAt(found, 'part-name')) || id;
};

/** Title, people and source as header fields. */
const fieldsFrom = (root: XmlElement): readonly Field[] => {
  const oneLine = (text: string | null): string => (text ?? '').replace(/\s+/g, ' ').trim();
  const about = elementAt(root, 'identification');
  const people = about === null ? [] : childrenNamed(about, 'creator').map((c) => oneLine(textOf(c)));
  const movement = oneLine(textAt(root, 'movement-title'));
  const work = oneLine(textAt(root, 'work', 'work-title'));
  const titles = [...new Set([movement, work].filter((t) => t !== ''))];
  const source = about === null ? '' : oneLine(textAt(about, 'source'));
  return [
    ...(titles.length === 0 ? ['Untitled'] : titles).map((value) => ({ code: 'T', value })),
    ...people.filter((p) => p !== '').map((value) => ({ code: 'C', value })),
    ...(source === '' ? [] : [{ code: 'S', value: source }]),
  ];
};

/** The bars of a part, line ends where a new system or page begins. */
const barsFrom = (part: XmlElement, running: Running, voice: string): readonly LooseBar[] => {
  const measures = childrenNamed(part, 'measure').slice(0, MOST_MEASURES);
  const breaksBefore = (measure: XmlElement | undefined): boolean => {
    const print = measure === undefined ? null : elementAt(measure, 'print');
    return (
      print !== null &&
      (attributeOf(print, 'new-system') === 'yes' || attributeOf(print, 'new-page') === 'yes')
    );
  };
  return measures.map((measure, i) => ({
    ...readMeasure(measure, running, voice),
    lineEnd: i === measures.length - 1 || breaksBefore(measures[i + 1]),
  }));
};

/** What of the document is not read, in words. */
const remarksOn = (
  root: XmlElement,
  parts: readonly XmlElement[],
  part: XmlElement,
): readonly Diagnostic[] => {
  const remark = (code: string, message: string): Diagnostic => ({ code, severity: 'remark', message });
  const others = parts.filter((p) => p !== part && pitchedNotes(p).length > 0);
  const voices = new Set(pitchedNotes(part).map(voiceOf));
  const transposed = childrenNamed(part, 'measure').some(
    (m) => elementAt(m, 'attributes', 'transpose') !== null,
  );
  const long = childrenNamed(part, 'measure').length > MOST_MEASURES;
  return [
    ...(others.length === 0
      ? []
      : [
          remark(
            'other-parts',
            `The part "${nameOfPart(root, part)}" is read; left out: ${others.map((p) => `"${nameOfPart(root, p)}"`).join(', ')}.`,
          ),
        ]),
    ...(voices.size < 2 ? [] : [remark('other-voices', 'The first voice is read, the others are left out.')]),
    ...(transposed
      ? [remark('transposed', 'The part is for a transposing instrument; the notes are read as written.')]
      : []),
    ...(long ? [remark('too-long', `Only the first ${MOST_MEASURES} measures are read.`)] : []),
  ];
};

const failure = (code: string, message: string, hint: string): ImportedTune => ({
  score: null,
  diagnostics: [{ code, severity: 'error', message, hint }],
});

/**
 * Reads the melody of a MusicXML document: the first part that has notes, and of that the first voice.
 *
 * What ABC has a sign for is kept: keys, metres, repeats, endings, chords, grace notes, ornaments, slurs, bows, fingers,
 * words. Clefs, page layout and sound are not. A turn is read as a roll, which in this trade it stands for.
 * @param root - the document's root element; the text is parsed outside, where packages may stand
 * @returns the tune with number 1, or an error; and what could not be read, by measure
 * @see Source: MusicXML 4.0 (W3C Community Group, 2021)
 */
export const readMusicXml = (root: XmlElement): ImportedTune => {
  const timewise = root.name === 'score-timewise';
  if (!timewise && root.name !== 'score-partwise')
    return failure(
      'no-musicxml',
      `This is no MusicXML score: its outermost element is "${root.name}".`,
      'Export the tune as MusicXML.',
    );
  const parts = timewise ? partsOfTimewise(root) : childrenNamed(root, 'part');
  const part = parts.find((p) => pitchedNotes(p).length > 0);
  const [first] = part === undefined ? [] : pitchedNotes(part);
  if (part === undefined || first === undefined)
    return failure('no-notes', 'There are no notes in the file.', 'Export the part with the melody.');
  const running: Running = {
    divisions: 1,
    key: NO_KEY,
    metre: metre(4, 4),
    graces: null,
    diagnostics: [],
  };
  const [opening, ...others] = barsFrom(part, running, voiceOf(first));
  if (opening === undefined) return failure('no-notes', 'There are no measures in the file.', '');
  const { parts: assembled, diagnostics } = assembleParts([{ ...opening, tempo: null }, ...others]);
  const score: Score = {
    number: 1,
    fields: fieldsFrom(root),
    metre: opening.metre,
    key: opening.key,
    unit: wholeNotes(1, 8),
    tempo: opening.tempo,
    partOrder: null,
    parts: assembled,
  };
  return {
    score,
    diagnostics: [...remarksOn(root, parts, part), ...running.diagnostics, ...diagnostics],
  };
};
