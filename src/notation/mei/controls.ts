import { toNumber, type WholeNotes } from '../../core/index.ts';
import { printedChord } from '../../music/index.ts';
import {
  addressKey,
  type Bar,
  type Finger,
  type Mark,
  type OrnamentSign,
  type Tempo,
} from '../../score/index.ts';
import { noteValuesOf } from '../noteValues.ts';
import { durationOf, pitchIdsOf } from './noteElement.ts';
import type { Piece } from './pieces.ts';
import { type Attributes, element, escapeXml } from './xml.ts';

/** SMuFL glyphs of the notes in a tempo mark, by @dur. Source: SMuFL 1.4, metronome marks. */
const TEMPO_NOTES: Readonly<Record<string, string>> = {
  '1': '\uECA2',
  '2': '\uECA3',
  '4': '\uECA5',
  '8': '\uECA7',
  '16': '\uECA9',
};
const TEMPO_DOT = '\uECB7';
/** A scoop up to the note. Source: SMuFL 1.4, brassScoop. */
const SLIDE_GLYPH = 'U+E5D0';

/** Where in the bar a moment is, as MEI counts: in the metre's lower number, the start being 1. */
export const timestampOf = (bar: Bar, onset: WholeNotes): string => {
  const unit = bar.metre.kind === 'free' ? 4 : bar.metre.unit;
  return String(Math.round((toNumber(onset) * unit + 1) * 10_000) / 10_000);
};

/** The sign that sounds at a moment, to hang a mark on; else the moment itself. */
const anchorAt = (bar: Bar, pieces: readonly Piece[], onset: WholeNotes): Attributes => {
  const at = pieces.find(
    (p) =>
      p.first &&
      p.event.kind === 'note' &&
      p.address.onset.num === onset.num &&
      p.address.onset.den === onset.den,
  );
  return at === undefined ? { tstamp: timestampOf(bar, onset) } : { startid: `#${at.anchor}` };
};

/** A roll or slide bears its note's id behind its name, so that a drawing's reader knows what it belongs to. */
const signElement = (sign: OrnamentSign, at: Attributes, note: string): string => {
  switch (sign) {
    case 'roll':
      return element('turn', { 'xml:id': `roll-${note}`, type: 'roll', ...at });
    case 'turn':
      return element('turn', at);
    case 'trill':
      return element('trill', at);
    case 'upperMordent':
      return element('mordent', { form: 'upper', ...at });
    case 'lowerMordent':
      return element('mordent', { form: 'lower', ...at });
    case 'slide':
      return element('ornam', { 'xml:id': `slide-${note}`, type: 'slide', ...at }, [
        element('symbol', { 'glyph.auth': 'smufl', 'glyph.num': SLIDE_GLYPH }),
      ]);
    default:
      return sign satisfies never;
  }
};

/** Marks that stand over the staff; those on the note itself are articulations. */
const markElement = (mark: Mark, at: Attributes): readonly string[] => {
  switch (mark) {
    case 'fermata':
      return [element('fermata', at)];
    case 'breath':
      return [element('breath', at)];
    case 'segno':
    case 'coda':
    case 'fine':
      return [element('repeatMark', { func: mark, ...at })];
    case 'dacapo':
      return [element('repeatMark', { func: 'daCapo', ...at }, ['D.C.'])];
    case 'dalsegno':
      return [element('repeatMark', { func: 'dalSegno', ...at }, ['D.S.'])];
    case 'staccato':
    case 'accent':
    case 'tenuto':
      return [];
    default:
      return mark satisfies never;
  }
};

const SECONDS = { low: 'L', high: 'H' } as const;

/** "2", "L2": a second finger says which one it is where that is known. */
const fingerText = (finger: Finger, second: 'low' | 'high' | undefined): string =>
  `${finger === 2 && second !== undefined ? SECONDS[second] : ''}${finger}`;

/** Signs, marks and fingers of one staff in one bar. */
export const noteControls = (
  pieces: readonly Piece[],
  staff: number,
  seconds: ReadonlyMap<string, 'low' | 'high'>,
): readonly string[] =>
  pieces.flatMap((piece) => {
    const { event } = piece;
    if (!piece.first) return [];
    const at: Attributes = { staff, startid: `#${piece.anchor}`, place: 'above' };
    const marks = event.marks.flatMap((mark) => markElement(mark, at));
    if (event.kind === 'rest') return marks;
    const ids = pitchIdsOf(piece);
    return [
      ...event.signs.map((sign) => signElement(sign, at, piece.anchor)),
      ...marks,
      ...event.fingers
        .slice(0, ids.length)
        .map((finger, tone) =>
          element('fing', { staff, startid: `#${ids[tone]}`, place: 'above' }, [
            fingerText(finger, tone === 0 ? seconds.get(addressKey(piece.address)) : undefined),
          ]),
        ),
    ];
  });

/** How much higher raised chords stand, in half distances of staff lines (@vo of MEI). Ours, looked at in print. */
const RAISED = 3;

/** Chord symbols, with real sharps and flats. */
export const chordControls = (bar: Bar, pieces: readonly Piece[], raised: boolean): readonly string[] =>
  bar.chords.map((symbol) =>
    element(
      'harm',
      { staff: 1, place: 'above', vo: raised ? RAISED : undefined, ...anchorAt(bar, pieces, symbol.onset) },
      [escapeXml(printedChord(symbol.chord))],
    ),
  );

/** Words over and under the staff, and how often a repeat is played where that is more than twice. */
export const textControls = (bar: Bar, pieces: readonly Piece[], staff: number): readonly string[] => [
  ...bar.annotations
    .filter((a) => a.text.trim() !== '')
    .map((a) =>
      element(
        'dir',
        { staff, place: a.place === 'below' ? 'below' : 'above', ...anchorAt(bar, pieces, a.onset) },
        [escapeXml(a.text)],
      ),
    ),
  ...(bar.repeatEnd > 1 && pieces.length > 0
    ? [
        element('dir', { staff, place: 'above', startid: `#${pieces.at(-1)?.anchor ?? ''}` }, [
          `${bar.repeatEnd + 1}×`,
        ]),
      ]
    : []),
];

/** A tempo mark at the start of a bar, its note value as a sign of the music font. */
export const tempoControl = (tempo: Tempo | null, staff: number): readonly string[] => {
  if (tempo === null) return [];
  const words = tempo.words === '' ? [] : [escapeXml(tempo.words)];
  const value = tempo.beat === null ? undefined : noteValuesOf(tempo.beat, null)[0];
  if (value === undefined || tempo.beatsPerMinute === null) {
    return words.length === 0 ? [] : [element('tempo', { staff, tstamp: 1, place: 'above' }, words)];
  }
  const dur = durationOf(value.value);
  const dots = value.dots === 0 ? '' : TEMPO_DOT.repeat(value.dots);
  return [
    element(
      'tempo',
      {
        staff,
        tstamp: 1,
        place: 'above',
        mm: tempo.beatsPerMinute,
        'mm.unit': dur,
        'mm.dots': value.dots === 0 ? undefined : value.dots,
      },
      [
        ...words.map((w) => `${w} `),
        element('rend', { 'glyph.auth': 'smufl', fontfam: 'smufl' }, [`${TEMPO_NOTES[dur] ?? ''}${dots}`]),
        ` = ${tempo.beatsPerMinute}`,
      ],
    ),
  ];
};
