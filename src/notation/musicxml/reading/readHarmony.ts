import { type Chord, type ChordQuality, formatChord, type PitchClass } from '../../../music/index.ts';
import type { XmlElement } from '../../xml.ts';
import { numberAt, textAt } from '../../xmlTree.ts';
import { alterOf, stepOf } from './readValues.ts';

/** Larger chords are read as the nearest that a backing plays. Source: MusicXML 4.0, simple type kind-value. */
const QUALITIES: Readonly<Record<string, ChordQuality>> = {
  major: 'major',
  minor: 'minor',
  augmented: 'augmented',
  diminished: 'diminished',
  dominant: 'dominantSeventh',
  'dominant-ninth': 'dominantSeventh',
  'dominant-11th': 'dominantSeventh',
  'dominant-13th': 'dominantSeventh',
  'major-seventh': 'majorSeventh',
  'major-ninth': 'majorSeventh',
  'minor-seventh': 'minorSeventh',
  'minor-ninth': 'minorSeventh',
  'minor-11th': 'minorSeventh',
  'diminished-seventh': 'diminishedSeventh',
  'half-diminished': 'diminished',
  'major-sixth': 'sixth',
  'minor-sixth': 'minorSixth',
  'suspended-second': 'suspendedSecond',
  'suspended-fourth': 'suspendedFourth',
  power: 'fifth',
};

const noteNamed = (harmony: XmlElement, kind: 'root' | 'bass'): PitchClass | null => {
  const step = stepOf(textAt(harmony, kind, `${kind}-step`));
  const alter = alterOf(numberAt(harmony, kind, `${kind}-alter`));
  return step === null || alter === null ? null : { step, alter };
};

/** A chord symbol and how ABC writes it; null for "no chord" and what has no root. */
export const chordFrom = (harmony: XmlElement): { readonly chord: Chord; readonly text: string } | null => {
  const root = noteNamed(harmony, 'root');
  const quality = QUALITIES[textAt(harmony, 'kind') ?? 'major'];
  if (root === null || quality === undefined) return null;
  const bass = noteNamed(harmony, 'bass');
  const chord: Chord = { root, quality, ...(bass === null ? {} : { bass }) };
  return { chord, text: formatChord(chord) };
};
