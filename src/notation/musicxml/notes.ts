import { compare } from '../../core/index.ts';
import { type Alter, barLengthOf, type Pitch } from '../../music/index.ts';
import type { Bar, Note } from '../../score/index.ts';
import type { NoteValue } from '../noteValues.ts';
import type { EventAccidentals, PrintedAccidental } from '../printedAccidentals.ts';
import type { BeamState, WrittenSign } from '../writtenSigns.ts';
import { type XmlElement, xml, xmlText } from '../xml.ts';
import { inDivisions } from './divisions.ts';
import { notationsElement, tiesAt } from './notations.ts';
import type { EventSpans } from './spans.ts';

/** Source: MusicXML 4.0, simple type accidental-value. */
const ACCIDENTALS: Readonly<Record<Alter, string>> = {
  [-2]: 'flat-flat',
  [-1]: 'flat',
  0: 'natural',
  1: 'sharp',
  2: 'double-sharp',
};
const BEAMS: Readonly<Record<BeamState, string>> = {
  begin: 'begin',
  continue: 'continue',
  end: 'end',
  forwardHook: 'forward hook',
  backwardHook: 'backward hook',
};
/** Source: MusicXML 4.0, simple type octave. A note beyond it is written in the nearest octave that there is. */
const OCTAVES = { lowest: 0, highest: 9 } as const;
/** A single grace note is a quaver, several are semiquavers. Common practice. */
const GRACE_VALUES = { one: 'eighth', several: '16th' } as const satisfies Record<string, NoteValue>;
const VOICE = xmlText('voice', 1);

const pitchElement = ({ step, alter, octave }: Pitch): XmlElement =>
  xml('pitch', {}, [
    xmlText('step', step),
    alter === 0 ? null : xmlText('alter', alter),
    xmlText('octave', Math.max(OCTAVES.lowest, Math.min(OCTAVES.highest, octave))),
  ]);

const accidentalElement = (printed: PrintedAccidental | null | undefined): XmlElement | null =>
  printed == null
    ? null
    : xmlText('accidental', ACCIDENTALS[printed.alter], { cautionary: printed.courtesy ? 'yes' : undefined });

const beamElements = (beams: readonly BeamState[]): readonly XmlElement[] =>
  beams.map((state, i) => xmlText('beam', BEAMS[state], { number: i + 1 }));

/** Grace notes: they last no time; several are beamed twice. */
const graceElements = (note: Note, accidentals: EventAccidentals | undefined): readonly XmlElement[] => {
  const pitches = note.graces?.pitches ?? [];
  const last = pitches.length - 1;
  const slash = note.graces?.slashed === true ? 'yes' : undefined;
  return pitches.map((pitch, i) => {
    const state: BeamState = i === 0 ? 'begin' : i === last ? 'end' : 'continue';
    return xml('note', {}, [
      xml('grace', { slash }),
      pitchElement(pitch),
      VOICE,
      xmlText('type', last > 0 ? GRACE_VALUES.several : GRACE_VALUES.one),
      accidentalElement(accidentals?.graces[i]),
      xmlText('stem', 'up'),
      ...(last > 0 ? beamElements([state, state]) : []),
    ]);
  });
};

const valueElements = ({ value }: WrittenSign): readonly XmlElement[] => [
  xmlText('type', value.value),
  ...Array.from({ length: value.dots }, () => xml('dot')),
];

const timeModification = ({ value }: WrittenSign): XmlElement | null =>
  value.ratio === null
    ? null
    : xml('time-modification', {}, [
        xmlText('actual-notes', value.ratio.actual),
        xmlText('normal-notes', value.ratio.normal),
      ]);

/** A syllable; a hyphen at its end says that the word goes on ("fid-" + "dle"). */
const lyricElement = (syllable: string, wordGoesOn: boolean): XmlElement => {
  const goesOn = syllable.endsWith('-') && syllable.length > 1;
  const syllabic = wordGoesOn ? (goesOn ? 'middle' : 'end') : goesOn ? 'begin' : 'single';
  return xml('lyric', { number: 1 }, [
    xmlText('syllabic', syllabic),
    xmlText('text', goesOn ? syllable.slice(0, -1) : syllable),
  ]);
};

/** What the notes of a bar need besides their signs. */
export interface NoteSetting {
  readonly divisions: number;
  readonly spans: readonly EventSpans[];
  readonly accidentals: readonly EventAccidentals[];
  /** For each event, its syllable and whether the syllable before it goes on into it. */
  readonly syllables: readonly ({ readonly text: string; readonly wordGoesOn: boolean } | null)[];
  /** For each event, the string of each pitch, 1 for the highest; null where it is not said. */
  readonly strings: readonly (readonly (number | null)[])[];
}

const NO_SPANS: EventSpans = { tieStops: [], tieStarts: [], slurStops: [], slurStarts: [] };

const chordElements = (note: Note, sign: WrittenSign, setting: NoteSetting): readonly XmlElement[] => {
  const spans = setting.spans[sign.eventIndex] ?? NO_SPANS;
  const accidentals = setting.accidentals[sign.eventIndex];
  const syllable = setting.syllables[sign.eventIndex];
  return note.pitches.map((pitch, tone) => {
    const place = { sign, spans, tone, string: setting.strings[sign.eventIndex]?.[tone] ?? null };
    const ties = tiesAt(place);
    return xml('note', {}, [
      tone === 0 ? null : xml('chord'),
      pitchElement(pitch),
      xmlText('duration', inDivisions(sign.value.length, setting.divisions)),
      ties.stop ? xml('tie', { type: 'stop' }) : null,
      ties.start ? xml('tie', { type: 'start' }) : null,
      VOICE,
      ...valueElements(sign),
      sign.first ? accidentalElement(accidentals?.pitches[tone]) : null,
      timeModification(sign),
      ...(tone === 0 ? beamElements(sign.beams) : []),
      notationsElement(place),
      tone === 0 && sign.first && syllable != null ? lyricElement(syllable.text, syllable.wordGoesOn) : null,
    ]);
  });
};

const restElement = (sign: WrittenSign, visible: boolean, setting: NoteSetting): XmlElement =>
  xml('note', { 'print-object': visible ? undefined : 'no' }, [
    xml('rest'),
    xmlText('duration', inDivisions(sign.value.length, setting.divisions)),
    VOICE,
    ...valueElements(sign),
    timeModification(sign),
    notationsElement({ sign, spans: NO_SPANS, tone: 0, string: null }),
  ]);

/** The note elements of one sign: grace notes before it, then the note and its chord tones, or the rest. */
export const noteElements = (sign: WrittenSign, setting: NoteSetting): readonly XmlElement[] => {
  const { event } = sign;
  if (event.kind === 'rest') return [restElement(sign, event.visible, setting)];
  const graces = sign.first ? graceElements(event, setting.accidentals[sign.eventIndex]) : [];
  return [...graces, ...chordElements(event, sign, setting)];
};

/** A bar of nothing but one rest is written as a bar's rest, whatever its length; null for any other bar. */
export const barRest = (bar: Bar, setting: NoteSetting): XmlElement | null => {
  const [only, ...more] = bar.events;
  const full = barLengthOf(bar.metre);
  if (only?.kind !== 'rest' || more.length > 0 || full === null || compare(only.length, full) !== 0)
    return null;
  return xml('note', { 'print-object': only.visible ? undefined : 'no' }, [
    xml('rest', { measure: 'yes' }),
    xmlText('duration', inDivisions(only.length, setting.divisions)),
    VOICE,
    only.marks.includes('fermata') ? xml('notations', {}, [xml('fermata', { type: 'upright' })]) : null,
  ]);
};
