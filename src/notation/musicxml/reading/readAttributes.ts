import {
  accidentalsOf,
  type Key,
  keyOfFifths,
  type Metre,
  MODES,
  type Mode,
  metre,
  NO_KEY,
  type Step,
} from '../../../music/index.ts';
import type { XmlElement } from '../../xml.ts';
import { attributeOf, childrenNamed, elementAt, numberAt, textAt, textOf } from '../../xmlTree.ts';
import { alterOf, stepOf } from './readValues.ts';

/** Other names of the modes. Source: MusicXML 4.0, simple type mode. */
const OTHER_MODES: Readonly<Record<string, Mode>> = { ionian: 'major', aeolian: 'minor' };
const modeNamed = (text: string | null): Mode | null =>
  text === null ? 'major' : (MODES.find((m) => m === text) ?? OTHER_MODES[text] ?? null);

/** A mixture of accidentals, letter by letter. */
const mixtureOf = (key: XmlElement): Key => {
  const alters = childrenNamed(key, 'key-alter');
  const accidentals = { ...accidentalsOf(0) };
  childrenNamed(key, 'key-step').forEach((element, i) => {
    const step: Step | null = stepOf(textOf(element));
    const alter = alterOf(Number(alters[i] === undefined ? 0 : textOf(alters[i])));
    if (step !== null && alter !== null) accidentals[step] = alter;
  });
  return { tonic: null, mode: null, accidentals, signature: 'explicit' };
};

/** The key that an `attributes` element sets; null where it sets none. */
export const keyFrom = (attributes: XmlElement): Key | null => {
  const key = elementAt(attributes, 'key');
  if (key === null) return null;
  const mode = textAt(key, 'mode');
  const fifths = numberAt(key, 'fifths');
  if (fifths === null) return mixtureOf(key);
  if (!Number.isInteger(fifths) || Math.abs(fifths) > 7) return null;
  if (mode === 'none' && fifths === 0) return NO_KEY;
  const named = modeNamed(mode);
  const plain = named === null ? null : keyOfFifths(fifths, named);
  return plain ?? { tonic: null, mode: null, accidentals: accidentalsOf(fifths), signature: 'explicit' };
};

const SYMBOLS: Readonly<Record<string, 'common' | 'cut'>> = { common: 'common', cut: 'cut' };

/** The metre that an `attributes` element sets; null where it sets none that can be read. */
export const metreFrom = (attributes: XmlElement): Metre | null => {
  const time = elementAt(attributes, 'time');
  if (time === null) return null;
  if (elementAt(time, 'senza-misura') !== null) return { kind: 'free' };
  const groups = (textAt(time, 'beats') ?? '').split('+').map(Number);
  const count = groups.reduce((total, group) => total + group, 0);
  const unit = numberAt(time, 'beat-type') ?? 0;
  if (groups.some((g) => !Number.isInteger(g) || g < 1) || !Number.isInteger(unit) || unit < 1) return null;
  const symbol = SYMBOLS[attributeOf(time, 'symbol') ?? ''];
  return {
    ...metre(count, unit),
    ...(symbol === undefined ? {} : { symbol }),
    ...(groups.length === 1 ? {} : { groups }),
  };
};
