import { fifthsOf, type Key, type Metre, plainFifthsOf, STEPS } from '../../music/index.ts';
import type { Bar } from '../../score/index.ts';
import { type XmlElement, xml, xmlText } from '../xml.ts';

/** A mode is named only where it and the keynote agree with the sharps or flats; programs find the keynote by both. */
const modeOf = (key: Key, fifths: number): readonly XmlElement[] => {
  if (key.signature === 'none') return [xmlText('mode', 'none')];
  if (key.tonic === null || key.mode === null || fifthsOf(key.tonic, key.mode) !== fifths) return [];
  return [xmlText('mode', key.mode)];
};

/** A plain signature as sharps or flats; a mixture by its letters. */
const keyElement = (key: Key): XmlElement => {
  const fifths = plainFifthsOf(key);
  if (fifths !== null) return xml('key', {}, [xmlText('fifths', fifths), ...modeOf(key, fifths)]);
  const altered = STEPS.filter((step) => key.accidentals[step] !== 0);
  const letters = altered.flatMap((step) => [
    xmlText('key-step', step),
    xmlText('key-alter', key.accidentals[step]),
  ]);
  return xml('key', {}, letters);
};

const timeElement = (metre: Metre): XmlElement => {
  if (metre.kind === 'free') return xml('time', {}, [xml('senza-misura')]);
  const beats = metre.groups === undefined ? String(metre.count) : metre.groups.join('+');
  return xml('time', { symbol: metre.symbol }, [xmlText('beats', beats), xmlText('beat-type', metre.unit)]);
};

const sameKey = (a: Key, b: Key): boolean =>
  STEPS.every((step) => a.accidentals[step] === b.accidentals[step]) &&
  a.mode === b.mode &&
  a.tonic?.step === b.tonic?.step &&
  a.tonic?.alter === b.tonic?.alter;

const sameMetre = (a: Metre, b: Metre): boolean =>
  a.kind === 'free' || b.kind === 'free'
    ? a.kind === b.kind
    : a.count === b.count &&
      a.unit === b.unit &&
      a.symbol === b.symbol &&
      a.groups?.join() === b.groups?.join();

const CLEF = xml('clef', {}, [xmlText('sign', 'G'), xmlText('line', 2)]);

/** What changes at the start of a bar: everything at the first, key and metre later; null where nothing does. */
export const attributesElement = (
  bar: Bar,
  before: Bar | undefined,
  divisions: number,
): XmlElement | null => {
  const key = before !== undefined && sameKey(bar.key, before.key) ? null : keyElement(bar.key);
  const time = before !== undefined && sameMetre(bar.metre, before.metre) ? null : timeElement(bar.metre);
  if (before === undefined) {
    return xml('attributes', {}, [xmlText('divisions', divisions), key, time, CLEF]);
  }
  return key === null && time === null ? null : xml('attributes', {}, [key, time]);
};
