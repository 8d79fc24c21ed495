import { asWholeNotes, multiply, rational, subtract, toNumber, type WholeNotes } from '../../core/index.ts';
import { type ChordQuality, type PitchClass, printedChord, printedName } from '../../music/index.ts';
import type { Annotation, ChordSymbol, Event, Mark, Tempo } from '../../score/index.ts';
import { noteValuesOf } from '../noteValues.ts';
import { type XmlElement, xml, xmlText } from '../xml.ts';
import { inDivisions } from './divisions.ts';

/** Something at a moment of a bar, before it is placed among the notes. */
export interface Placed {
  readonly onset: WholeNotes;
  /** Makes the element, given how far it stands after the note that it is written before. */
  readonly element: (after: WholeNotes, divisions: number) => XmlElement;
}

/** Source: MusicXML 4.0, simple type kind-value. */
const KINDS: Readonly<Record<ChordQuality, string>> = {
  major: 'major',
  minor: 'minor',
  dominantSeventh: 'dominant',
  minorSeventh: 'minor-seventh',
  majorSeventh: 'major-seventh',
  sixth: 'major-sixth',
  minorSixth: 'minor-sixth',
  diminished: 'diminished',
  diminishedSeventh: 'diminished-seventh',
  augmented: 'augmented',
  suspendedFourth: 'suspended-fourth',
  suspendedSecond: 'suspended-second',
  fifth: 'power',
};

const offsetElement = (after: WholeNotes, divisions: number): XmlElement | null =>
  after.num === 0 ? null : xmlText('offset', inDivisions(after, divisions));

const noteName = (kind: 'root' | 'bass', note: PitchClass): XmlElement =>
  xml(kind, {}, [
    xmlText(`${kind}-step`, note.step),
    note.alter === 0 ? null : xmlText(`${kind}-alter`, note.alter),
  ]);

/** A chord symbol over the staff. */
export const harmony = ({ chord, onset }: ChordSymbol): Placed => ({
  onset,
  element: (after, divisions) => {
    const { root, quality, bass } = chord;
    const text = printedChord({ root, quality }).slice(printedName(root).length);
    return xml('harmony', {}, [
      noteName('root', root),
      xmlText('kind', KINDS[quality], { text }),
      bass === undefined ? null : noteName('bass', bass),
      offsetElement(after, divisions),
    ]);
  },
});

const direction = (
  types: readonly XmlElement[],
  more: {
    readonly placement?: 'above' | 'below';
    readonly offset?: XmlElement | null;
    readonly sound?: XmlElement;
  } = {},
): XmlElement =>
  xml('direction', { placement: more.placement ?? 'above' }, [
    ...types.map((type) => xml('direction-type', {}, [type])),
    more.offset ?? null,
    more.sound ?? null,
  ]);

/** Words over or under the staff; what ABC puts left, right or anywhere stands above. */
export const words = ({ text, place, onset }: Annotation): Placed => ({
  onset,
  element: (after, divisions) =>
    direction([xmlText('words', text)], {
      placement: place === 'below' ? 'below' : 'above',
      offset: offsetElement(after, divisions),
    }),
});

/** The part's label in a frame. */
export const rehearsalMark = (label: string): XmlElement => direction([xmlText('rehearsal', label)]);

const metronome = (beat: WholeNotes, perMinute: number): XmlElement | null => {
  const [value, ...more] = noteValuesOf(beat, null);
  if (value === undefined || more.length > 0 || value.ratio !== null) return null;
  return xml('metronome', {}, [
    xmlText('beat-unit', value.value),
    ...Array.from({ length: value.dots }, () => xml('beat-unit-dot')),
    xmlText('per-minute', perMinute),
  ]);
};

/** The tempo with its note value; how fast it sounds in crotchets a minute. Null where it says neither words nor speed. */
export const tempoDirection = (tempo: Tempo): XmlElement | null => {
  const { beat, beatsPerMinute } = tempo;
  const known = beat !== null && beat.num > 0 && beatsPerMinute !== null && beatsPerMinute > 0;
  const types = [
    tempo.words.trim() === '' ? null : xmlText('words', tempo.words),
    known ? metronome(beat, beatsPerMinute) : null,
  ].filter((type) => type !== null);
  const crotchets = known ? toNumber(multiply(beat, rational(4))) * beatsPerMinute : null;
  if (types.length === 0) return null;
  return direction(types, crotchets === null ? {} : { sound: xml('sound', { tempo: crotchets }) });
};

/** Signs of the road map through a tune, and how they sound. Source: MusicXML 4.0, element sound. */
const ROAD_SIGNS: Partial<Readonly<Record<Mark, () => XmlElement>>> = {
  segno: () => direction([xml('segno')], { sound: xml('sound', { segno: 'segno' }) }),
  coda: () => direction([xml('coda')], { sound: xml('sound', { coda: 'coda' }) }),
  fine: () => direction([xmlText('words', 'Fine')], { sound: xml('sound', { fine: 'yes' }) }),
  dacapo: () => direction([xmlText('words', 'D.C.')], { sound: xml('sound', { dacapo: 'yes' }) }),
  dalsegno: () => direction([xmlText('words', 'D.S.')], { sound: xml('sound', { dalsegno: 'segno' }) }),
};

/** Source: MusicXML 4.0, complex type dynamics; names as in the ABC standard 2.1, section 4.14. */
const DYNAMICS = new Set(['pppp', 'ppp', 'pp', 'p', 'mp', 'mf', 'f', 'ff', 'fff', 'ffff', 'sfz']);

/** Whether a decoration is a dynamic mark, and so stands as a direction. */
export const isDynamic = (name: string): boolean => DYNAMICS.has(name);

/** What an event has that stands before it as a direction; signs of the road map only over the top staff. */
export const directionsOf = (event: Event, top: boolean): readonly XmlElement[] => [
  ...(top ? event.marks : []).flatMap((mark) => ROAD_SIGNS[mark]?.() ?? []),
  ...(event.kind === 'note' ? event.otherDecorations : [])
    .filter(isDynamic)
    .map((name) => direction([xml('dynamics', {}, [xml(name)])], { placement: 'below' })),
];

/** The elements of a bar's placed things that belong before a note, or after the last. */
export const placedBetween = (
  things: readonly Placed[],
  from: WholeNotes,
  to: WholeNotes | null,
  divisions: number,
): readonly XmlElement[] =>
  things
    .filter(
      ({ onset }) => toNumber(onset) >= toNumber(from) && (to === null || toNumber(onset) < toNumber(to)),
    )
    .map(({ onset, element }) => element(asWholeNotes(subtract(onset, from)), divisions));
