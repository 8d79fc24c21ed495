import type { Event, Mark, Note, OrnamentSign } from '../../score/index.ts';
import type { WrittenSign } from '../writtenSigns.ts';
import { type XmlElement, xml, xmlText } from '../xml.ts';
import { isDynamic } from './directions.ts';
import type { EventSpans } from './spans.ts';

/**
 * Ornaments by their nearest element. A roll has none of its own: `turn` is the one whose notes it shares (the note,
 * the one above, the note, the one below, the note) and that every reader draws and plays; `other-ornament` is mostly
 * dropped, and the ornament with it. A slide into a note comes from nowhere in particular, so it is an articulation
 * (`scoop`); the element `slide` would want a note to start from. A mordent with a stroke is MusicXML's plain one.
 * Source: MusicXML 4.0, elements ornaments and articulations.
 */
const ORNAMENTS: Readonly<Record<Exclude<OrnamentSign, 'slide'>, string>> = {
  roll: 'turn',
  turn: 'turn',
  trill: 'trill-mark',
  upperMordent: 'inverted-mordent',
  lowerMordent: 'mordent',
};
const ARTICULATIONS: Partial<Readonly<Record<Mark, string>>> = {
  staccato: 'staccato',
  accent: 'accent',
  tenuto: 'tenuto',
  breath: 'breath-mark',
};

/** Which tone of a chord, which sign of an event, a note element stands for. */
export interface Tone {
  readonly sign: WrittenSign;
  readonly spans: EventSpans;
  /** Index in the note's pitches; 0 for a rest. */
  readonly tone: number;
  /** The string it lies on, 1 for the highest; null: not said. */
  readonly string: number | null;
}

const group = (name: string, children: readonly (XmlElement | null)[]): XmlElement | null => {
  const present = children.filter((child) => child !== null);
  return present.length === 0 ? null : xml(name, {}, present);
};

const ABOVE = { placement: 'above' } as const;

/** Whether a tie arrives at, leaves from this note element, the ties within a split event counted in. */
export const tiesAt = ({ sign, spans, tone }: Tone): { readonly stop: boolean; readonly start: boolean } => ({
  stop: sign.event.kind === 'note' && (sign.first ? spans.tieStops[tone] === true : true),
  start: sign.event.kind === 'note' && (sign.last ? spans.tieStarts[tone] === true : true),
});

const slurs = ({ sign, spans }: Tone): readonly XmlElement[] => [
  ...(sign.last ? spans.slurStops : []).map((number) => xml('slur', { type: 'stop', number })),
  ...(sign.first ? spans.slurStarts : []).map((number) => xml('slur', { type: 'start', number })),
];

const tupletBrackets = ({ bracket, beamedTuplet }: WrittenSign): readonly XmlElement[] => {
  if (bracket === null) return [];
  const edges = bracket === 'both' ? (['start', 'stop'] as const) : [bracket];
  return edges.map((type) => {
    const drawn = beamedTuplet ? 'no' : 'yes';
    return xml('tuplet', { type, bracket: type === 'start' ? drawn : undefined, number: 1 });
  });
};

const ornaments = (note: Note): XmlElement | null =>
  group(
    'ornaments',
    note.signs.map((sign) => (sign === 'slide' ? null : xml(ORNAMENTS[sign], ABOVE))),
  );

const articulations = (event: Event): XmlElement | null =>
  group('articulations', [
    ...event.marks.map((mark) => {
      const name = ARTICULATIONS[mark];
      return name === undefined ? null : xml(name);
    }),
    event.kind === 'note' && event.signs.includes('slide') ? xml('scoop') : null,
  ]);

/** The finger, and the string where it is known. Source: MusicXML 4.0, element string: 1 is the highest. */
const fingering = (note: Note, { tone, string }: Tone): readonly XmlElement[] => {
  const number = note.fingers[tone];
  if (number === undefined) return [];
  const onString = string === null ? [] : [xmlText('string', string, ABOVE)];
  return [xmlText('fingering', number, ABOVE), ...onString];
};

/** Bow, finger, string, and decorations that are none of ours, by name. */
const technical = (note: Note, place: Tone): XmlElement | null => {
  if (place.tone > 0) return group('technical', fingering(note, place));
  return group('technical', [
    note.bow === null ? null : xml(note.bow === 'up' ? 'up-bow' : 'down-bow', ABOVE),
    ...fingering(note, place),
    ...note.otherDecorations
      .filter((name) => !isDynamic(name))
      .map((name) => xmlText('other-technical', name, ABOVE)),
  ]);
};

/** Everything that hangs on a note or rest. Signs of the whole event stand at its first sign's first tone. */
export const notationsElement = (place: Tone): XmlElement | null => {
  const { sign, tone } = place;
  const { event } = sign;
  const ties = tiesAt(place);
  const whole = tone === 0;
  const begins = whole && sign.first;
  const fermata = whole && sign.last && event.marks.includes('fermata');
  return group('notations', [
    ties.stop ? xml('tied', { type: 'stop' }) : null,
    ties.start ? xml('tied', { type: 'start' }) : null,
    ...(whole ? slurs(place) : []),
    ...(whole ? tupletBrackets(sign) : []),
    begins && event.kind === 'note' ? ornaments(event) : null,
    sign.first && event.kind === 'note' ? technical(event, place) : null,
    begins ? articulations(event) : null,
    fermata ? xml('fermata', { type: 'upright' }) : null,
  ]);
};
