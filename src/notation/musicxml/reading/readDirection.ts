import { asWholeNotes, multiply, rational, type WholeNotes, wholeNotes } from '../../../core/index.ts';
import type { Annotation, Mark, Tempo } from '../../../score/index.ts';
import type { XmlElement } from '../../xml.ts';
import { attributeOf, childrenNamed, elementAt, textAt, textOf } from '../../xmlTree.ts';

/** What one direction says. */
export interface Direction {
  readonly label: string | null;
  readonly tempo: Tempo | null;
  readonly words: readonly Omit<Annotation, 'onset'>[];
  /** Signs of the road map: they hang on the next event. */
  readonly marks: readonly Mark[];
  /** Dynamics by name. */
  readonly decorations: readonly string[];
}

/** Source: MusicXML 4.0, simple type note-type-value. */
const BEAT_UNITS: Readonly<Record<string, WholeNotes>> = {
  whole: wholeNotes(1),
  half: wholeNotes(1, 2),
  quarter: wholeNotes(1, 4),
  eighth: wholeNotes(1, 8),
  '16th': wholeNotes(1, 16),
};
/** A longer rehearsal mark is a sentence, no label of a part. Ours. */
const LONGEST_LABEL = 3;
/** Beats a minute that are taken for a tempo. Ours. */
const TEMPO_RANGE = { least: 5, most: 1000 } as const;

const inRange = (perMinute: number): boolean =>
  perMinute >= TEMPO_RANGE.least && perMinute <= TEMPO_RANGE.most;

const dotted = (value: WholeNotes, dots: number): WholeNotes =>
  dots === 0 ? value : asWholeNotes(multiply(value, rational(2 ** (dots + 1) - 1, 2 ** dots)));

const metronomeTempo = (metronome: XmlElement, words: string): Tempo | null => {
  const unit = BEAT_UNITS[textAt(metronome, 'beat-unit') ?? ''];
  const perMinute = Number(/\d+(?:\.\d+)?/.exec(textAt(metronome, 'per-minute') ?? '')?.[0]);
  if (unit === undefined || !inRange(perMinute)) return null;
  const dots = Math.min(2, childrenNamed(metronome, 'beat-unit-dot').length);
  return { beat: dotted(unit, dots), beatsPerMinute: perMinute, words };
};

/** The speed that a `sound` element plays at, in crotchets a minute. */
const soundTempo = (sound: XmlElement | null, words: string): Tempo | null => {
  const perMinute = Number(sound === null ? Number.NaN : (attributeOf(sound, 'tempo') ?? Number.NaN));
  return inRange(perMinute) ? { beat: wholeNotes(1, 4), beatsPerMinute: perMinute, words } : null;
};

const ROAD_SOUNDS = {
  fine: 'fine',
  dacapo: 'dacapo',
  dalsegno: 'dalsegno',
  segno: 'segno',
  coda: 'coda',
} as const;

const roadMarks = (direction: XmlElement): readonly Mark[] => {
  const sound = elementAt(direction, 'sound');
  const said = Object.entries(ROAD_SOUNDS).flatMap(([name, mark]) =>
    sound !== null && attributeOf(sound, name) !== null && attributeOf(sound, name) !== 'no' ? [mark] : [],
  );
  const drawn = childrenNamed(direction, 'direction-type').flatMap((type) => [
    ...(elementAt(type, 'segno') === null ? [] : (['segno'] as const)),
    ...(elementAt(type, 'coda') === null ? [] : (['coda'] as const)),
  ]);
  return [...new Set([...drawn, ...said])];
};

/** Everything that a direction says and that ABC can hold. */
export const directionFrom = (direction: XmlElement): Direction => {
  const types = childrenNamed(direction, 'direction-type');
  const under = (name: string): readonly XmlElement[] => types.flatMap((type) => childrenNamed(type, name));
  const texts = under('words')
    .map(textOf)
    .filter((text) => text !== '');
  const [rehearsal] = under('rehearsal');
  const label = rehearsal === undefined ? '' : textOf(rehearsal);
  const isLabel = label !== '' && label.length <= LONGEST_LABEL;
  const [metronome] = under('metronome');
  const said = texts.join(' ');
  const tempo =
    (metronome === undefined ? null : metronomeTempo(metronome, said)) ??
    soundTempo(elementAt(direction, 'sound'), said);
  const marks = roadMarks(direction);
  const place = attributeOf(direction, 'placement') === 'below' ? 'below' : 'above';
  const free = tempo !== null || marks.length > 0 ? [] : texts;
  return {
    label: isLabel ? label : null,
    tempo,
    words: [...free, ...(isLabel || label === '' ? [] : [label])].map((text) => ({ place, text })),
    marks,
    decorations: under('dynamics').flatMap((d) =>
      d.children.flatMap((c) => (c === null || typeof c === 'string' ? [] : [c.name])),
    ),
  };
};
