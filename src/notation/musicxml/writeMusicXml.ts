import { add, asWholeNotes, type WholeNotes, wholeNotes } from '../../core/index.ts';
import {
  addressKey,
  type Bar,
  barsOf,
  type PlacedBar,
  placedEvents,
  type Score,
  writtenLengthOf,
} from '../../score/index.ts';
import { accidentalsToPrint } from '../printedAccidentals.ts';
import { writtenSignsOf } from '../writtenSigns.ts';
import { formatXml, type XmlElement, xml, xmlText } from '../xml.ts';
import { attributesElement } from './attributes.ts';
import { type EndingSpan, endingsOf, leftBarline, rightBarline } from './barlines.ts';
import { directionsOf, harmony, placedBetween, rehearsalMark, tempoDirection, words } from './directions.ts';
import { divisionsOf } from './divisions.ts';
import type { MusicXmlDocument, MusicXmlPart } from './musicXmlDocument.ts';
import { barRest, type NoteSetting, noteElements } from './notes.ts';
import { spansOf } from './spans.ts';

/** Source: MusicXML 4.0, "Document declarations". */
const DOCTYPE =
  'score-partwise PUBLIC "-//Recordare//DTD MusicXML 4.0 Partwise//EN" "http://www.musicxml.org/dtds/partwise.dtd"';
/** Violin in General MIDI, counted from 1 as MusicXML does. Source: General MIDI level 1, sound set. */
const VIOLIN_PROGRAM = 41;

/** A part of the document while it is written. */
interface Staff {
  readonly score: Score;
  readonly bars: readonly PlacedBar[];
  readonly endings: readonly EndingSpan[];
  readonly settings: readonly NoteSetting[];
  readonly numbers: readonly MeasureNumber[];
  readonly divisions: number;
  /** Tempo, part labels and signs of the road map stand over the top staff only. */
  readonly top: boolean;
}

interface MeasureNumber {
  readonly number: string;
  /** "yes" for what has no number on paper. */
  readonly implicit?: 'yes';
}

/** Numbers as printed; a pick-up at the start is "0", what else has no number "X1", "X2" … Source: MusicXML 4.0, element measure. */
const measureNumbers = (bars: readonly PlacedBar[]): readonly MeasureNumber[] => {
  let unnumbered = 0;
  return bars.map(({ bar }, i): MeasureNumber => {
    if (bar.number !== null) return { number: String(bar.number) };
    if (i === 0) return { number: '0', implicit: 'yes' };
    unnumbered += 1;
    return { number: `X${unnumbered}`, implicit: 'yes' };
  });
};

/** Each event's syllable. Blank ones and the marks that skip or hold a note in ABC are none. */
const syllablesOf = (bars: readonly PlacedBar[]): readonly NoteSetting['syllables'][] => {
  let wordGoesOn = false;
  return bars.map(({ bar }) =>
    bar.events.map((event) => {
      const text = event.kind === 'note' ? (event.lyric?.trim() ?? '') : '';
      if (text === '' || text === '*' || text === '_' || text === '-') return null;
      const syllable = { text, wordGoesOn };
      wordGoesOn = text.endsWith('-') && text.length > 1;
      return syllable;
    }),
  );
};

/** The strings of each event's pitches, as far as they are known. */
const stringsOf = (
  { bar, part, index }: PlacedBar,
  strings: ReadonlyMap<string, number>,
): NoteSetting['strings'] =>
  placedEvents(bar).map(({ event, onset }) => {
    const at = { part, bar: index, onset };
    const pitches = event.kind === 'rest' ? [] : event.pitches;
    return pitches.map((_, tone) => strings.get(addressKey(tone === 0 ? at : { ...at, tone })) ?? null);
  });

const NO_STRINGS: ReadonlyMap<string, number> = new Map();

const staffOf = ({ score, strings }: MusicXmlPart, divisions: number, top: boolean): Staff => {
  const bars = barsOf(score);
  const spans = spansOf(score);
  const accidentals = accidentalsToPrint(bars.map(({ bar }) => bar));
  const syllables = syllablesOf(bars);
  return {
    score,
    bars,
    endings: endingsOf(bars),
    settings: bars.map((placed, i) => ({
      divisions,
      spans: spans[i] ?? [],
      accidentals: accidentals[i] ?? [],
      syllables: syllables[i] ?? [],
      strings: stringsOf(placed, strings ?? NO_STRINGS),
    })),
    numbers: measureNumbers(bars),
    divisions,
    top,
  };
};

/** Notes with what stands over them, in order of onset. */
const contentOf = (bar: Bar, setting: NoteSetting, top: boolean): readonly XmlElement[] => {
  const things = [...bar.chords.map(harmony), ...bar.annotations.map(words)];
  const { divisions } = setting;
  const rest = barRest(bar, setting);
  const end = writtenLengthOf(bar);
  const from = wholeNotes(0);
  if (rest !== null) {
    const roadSigns = bar.events.flatMap((event) => directionsOf(event, top));
    return [
      ...placedBetween(things, from, end, divisions),
      ...roadSigns,
      rest,
      ...placedBetween(things, end, null, divisions),
    ];
  }
  const notes = writtenSignsOf(bar).flatMap((sign): readonly XmlElement[] => {
    const until: WholeNotes = asWholeNotes(add(sign.onset, sign.value.length));
    return [
      ...placedBetween(things, sign.onset, until, divisions),
      ...(sign.first ? directionsOf(sign.event, top) : []),
      ...noteElements(sign, setting),
    ];
  });
  return [...notes, ...placedBetween(things, end, null, divisions)];
};

/** What the top staff says at the start of a bar: the part's label, the tempo. */
const headingOf = ({ score, bars, top }: Staff, index: number): readonly (XmlElement | null)[] => {
  const placed = bars[index];
  if (!top || placed === undefined) return [];
  const labelled = score.parts.length > 1 || score.parts.some((part) => part.named);
  const begins = labelled && placed.part !== bars[index - 1]?.part;
  const tempo = placed.bar.tempo ?? (index === 0 ? score.tempo : null);
  return [begins ? rehearsalMark(placed.part) : null, tempo === null ? null : tempoDirection(tempo)];
};

const measureElement = (staff: Staff, index: number): XmlElement | null => {
  const placed = staff.bars[index];
  const setting = staff.settings[index];
  const number = staff.numbers[index];
  if (placed === undefined || setting === undefined || number === undefined) return null;
  const before = staff.bars[index - 1]?.bar;
  return xml('measure', { ...number }, [
    before?.lineEnd === true ? xml('print', { 'new-system': 'yes' }) : null,
    attributesElement(placed.bar, before, staff.divisions),
    leftBarline(placed, index, staff.endings),
    ...headingOf(staff, index),
    ...contentOf(placed.bar, setting, staff.top),
    rightBarline(placed, index, staff.endings),
  ]);
};

const identification = (document: MusicXmlDocument): XmlElement =>
  xml('identification', {}, [
    document.composer === undefined ? null : xmlText('creator', document.composer, { type: 'composer' }),
    document.rights === undefined ? null : xmlText('rights', document.rights),
    xml('encoding', {}, [
      xmlText('software', 'Tuneladder'),
      document.date === undefined ? null : xmlText('encoding-date', document.date),
    ]),
    document.source === undefined ? null : xmlText('source', document.source),
  ]);

const partList = (parts: readonly MusicXmlPart[]): XmlElement => {
  const group = parts.length > 1;
  return xml('part-list', {}, [
    group
      ? xml('part-group', { type: 'start', number: 1 }, [
          xmlText('group-symbol', 'bracket'),
          xmlText('group-barline', 'yes'),
        ])
      : null,
    ...parts.map(({ id, name }, i) =>
      xml('score-part', { id }, [
        xmlText('part-name', name),
        xml('score-instrument', { id: `${id}-fiddle` }, [
          xmlText('instrument-name', 'Fiddle'),
          xmlText('instrument-sound', 'strings.fiddle'),
        ]),
        xml('midi-instrument', { id: `${id}-fiddle` }, [
          xmlText('midi-channel', (i % 9) + 1),
          xmlText('midi-program', VIOLIN_PROGRAM),
        ]),
      ]),
    ),
    group ? xml('part-group', { type: 'stop', number: 1 }) : null,
  ]);
};

/** Throws where the document cannot be one. */
const checkDocument = ({ parts, date }: MusicXmlDocument): void => {
  const counts = new Set(parts.map(({ score }) => barsOf(score).length));
  if (parts.length === 0 || counts.size !== 1 || counts.has(0)) {
    throw new RangeError(
      `writeMusicXml: parts with ${[...counts].join(', ') || 'no'} bars; all need the same number`,
    );
  }
  const ids = parts.map(({ id }) => id);
  if (new Set(ids).size !== ids.length || ids.some((id) => !/^[A-Za-z_][\w.-]*$/.test(id))) {
    throw new RangeError(`writeMusicXml: part ids ${ids.join(', ')} must be different XML names`);
  }
  if (date !== undefined && !/^\d{4}-\d\d-\d\d$/.test(date)) {
    throw new RangeError(`writeMusicXml: date ${date}, expected the form 2026-11-25`);
  }
};

/**
 * Writes a tune, or its versions as parts under each other, as a partwise MusicXML file.
 *
 * Same document, same text: the day comes in as data. Notes below octave 0 or above octave 9 are written in the nearest
 * octave that the format has. A slur, tie, beam or bracket is written only where both its ends are.
 * @throws RangeError when parts have different numbers of bars or none, share an id, or the date is no date (a caller's bug)
 * @see Source: MusicXML 4.0 (W3C Community Group, 2021)
 */
export const writeMusicXml = (document: MusicXmlDocument): string => {
  checkDocument(document);
  const divisions = divisionsOf(document.parts.map(({ score }) => score));
  const parts = document.parts.map((part, i) => {
    const staff = staffOf(part, divisions, i === 0);
    return xml(
      'part',
      { id: part.id },
      staff.bars.map((_, k) => measureElement(staff, k)),
    );
  });
  const root = xml('score-partwise', { version: '4.0' }, [
    xml('work', {}, [xmlText('work-title', document.title)]),
    identification(document),
    partList(document.parts),
    ...parts,
  ]);
  return formatXml(root, DOCTYPE);
};
