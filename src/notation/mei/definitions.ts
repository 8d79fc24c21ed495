import { type Alter, type Key, type Metre, plainFifthsOf, STEPS } from '../../music/index.ts';
import type { MeiStaff } from './meiDocument.ts';
import { type Attributes, element, escapeXml } from './xml.ts';

const SIGNS: Readonly<Record<Alter, string>> = { [-2]: 'ff', [-1]: 'f', 0: 'n', 1: 's', 2: 'x' };
/** Staff octave in which a signature prints each sharp and each flat in the treble clef. Common practice. */
const SHARP_OCTAVES: Readonly<Record<string, number>> = { F: 5, C: 5, G: 5, D: 5, A: 4, E: 5, B: 4 };
const FLAT_OCTAVES: Readonly<Record<string, number>> = { B: 4, E: 5, A: 4, D: 5, G: 4, C: 5, F: 4 };

/** A signature as an attribute value; null for a mixture that needs an element. */
const signature = (key: Key): string | null => {
  if (key.signature === 'pipes') return null;
  const fifths = plainFifthsOf(key);
  if (fifths === null) return null;
  return fifths === 0 ? '0' : `${Math.abs(fifths)}${fifths > 0 ? 's' : 'f'}`;
};

const keyAccidental = (step: (typeof STEPS)[number], alter: Alter): string =>
  element('keyAccid', {
    pname: step.toLowerCase(),
    accid: SIGNS[alter],
    oct: (alter < 0 ? FLAT_OCTAVES : SHARP_OCTAVES)[step],
  });

/** The Highland pipe signature shows its G natural. Source: ABC standard 2.1, section 3.1.14 (K:Hp). */
const keySignature = (key: Key): string => {
  const plain = signature(key);
  if (plain !== null) return element('keySig', { sig: plain });
  const shown = STEPS.filter((s) => key.accidentals[s] !== 0 || (key.signature === 'pipes' && s === 'G'));
  return element(
    'keySig',
    {},
    shown.map((s) => keyAccidental(s, key.accidentals[s])),
  );
};

const metreSignature = (metre: Metre, printed: boolean): readonly string[] => {
  if (metre.kind === 'free') return [];
  const attributes: Attributes = {
    count: metre.groups?.join('+') ?? metre.count,
    unit: metre.unit,
    sym: metre.symbol,
    visible: printed ? undefined : 'false',
  };
  return [element('meterSig', attributes)];
};

/** What holds from the first bar on: key, metre, staves with their names. */
export const scoreDefinition = (
  staves: readonly MeiStaff[],
  start: { readonly key: Key; readonly metre: Metre },
  printsMetre: boolean,
): string => {
  const definitions = staves.map((staff, i) =>
    element('staffDef', { n: i + 1, lines: 5 }, [
      ...(staff.name === null ? [] : [element('label', {}, [escapeXml(staff.name)])]),
      element('clef', { shape: 'G', line: 2 }),
    ]),
  );
  const group = element(
    'staffGrp',
    staves.length > 1 ? { symbol: 'bracket', 'bar.thru': 'true' } : {},
    definitions,
  );
  return element('scoreDef', {}, [
    keySignature(start.key),
    ...metreSignature(start.metre, printsMetre),
    group,
  ]);
};

const isSameKey = (a: Key, b: Key): boolean =>
  STEPS.every((s) => a.accidentals[s] === b.accidentals[s]) &&
  (a.signature === 'pipes') === (b.signature === 'pipes');

const isSameMetre = (a: Metre, b: Metre): boolean =>
  a.kind === 'free' || b.kind === 'free'
    ? a.kind === b.kind
    : a.count === b.count && a.unit === b.unit && a.symbol === b.symbol;

/** What changes between two bars, to stand between them; empty where nothing does. */
export const definitionChange = (
  before: { readonly key: Key; readonly metre: Metre },
  now: { readonly key: Key; readonly metre: Metre },
): readonly string[] => {
  const parts = [
    ...(isSameKey(before.key, now.key) ? [] : [keySignature(now.key)]),
    ...(isSameMetre(before.metre, now.metre) ? [] : metreSignature(now.metre, true)),
  ];
  return parts.length === 0 ? [] : [element('scoreDef', {}, parts)];
};
