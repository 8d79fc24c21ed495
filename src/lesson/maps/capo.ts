import { toNumber } from '../../core/index.ts';
import type { ChordPlan } from '../../harmony/index.ts';
import {
  type Chord,
  type ChordQuality,
  chromaOf,
  type Key,
  pitchClass,
  printedChord,
} from '../../music/index.ts';
import { joined } from '../words.ts';

/** A chord of the tune and the shape that a guitarist holds for it behind the capo. */
interface GuitarChord {
  /** "B♭". */
  readonly name: string;
  /** "G". */
  readonly shape: string;
  /** Whether the shape has open strings in it, so that no barre is needed. */
  readonly open: boolean;
}

/** Where a capo makes a tune's chords easiest to hold. */
export interface CapoHint {
  /** 0: no capo. */
  readonly fret: number;
  /** The shape of the tonic chord, "D" or "Em"; null where the tune has no keynote. */
  readonly family: string | null;
  /** In the order in which the chords first come. */
  readonly chords: readonly GuitarChord[];
}

/** Root names of shapes by semitones above C. */
const ROOTS = ['C', 'C#', 'D', 'Eb', 'E', 'F', 'F#', 'G', 'G#', 'A', 'Bb', 'B'].map(pitchClass);

/** Chords that are held with open strings in the guitar's usual tuning, by kind. Common practice. */
const OPEN_SHAPES: Partial<Readonly<Record<ChordQuality, readonly string[]>>> = {
  major: ['C', 'D', 'E', 'G', 'A'],
  minor: ['Dm', 'Em', 'Am'],
  dominantSeventh: ['C7', 'D7', 'E7', 'G7', 'A7', 'B7'],
  minorSeventh: ['Dm7', 'Em7', 'Am7'],
  majorSeventh: ['Cmaj7', 'Dmaj7', 'Gmaj7', 'Amaj7'],
  suspendedFourth: ['Dsus4', 'Esus4', 'Asus4'],
  suspendedSecond: ['Dsus2', 'Asus2'],
  fifth: ['C5', 'D5', 'E5', 'G5', 'A5'],
};

/** Further up a capo takes away too much of the neck. Common practice. */
const HIGHEST_FRET = 5;
/** What a capo and each of its frets must save, as shares of the tune's time under a barre, to be worth it. Ours. */
const COST = { capo: 0.06, fret: 0.04 };

const shapeOf = (chord: Chord, fret: number): Chord => ({
  root: ROOTS[(chromaOf(chord.root) - fret + 12) % 12] ?? chord.root,
  quality: chord.quality,
});

const isOpen = (shape: Chord): boolean => OPEN_SHAPES[shape.quality]?.includes(printedChord(shape)) ?? false;

/** The share of the tune's time under a barre with a capo at that fret. */
const barredShare = (plan: ChordPlan, fret: number): number => {
  const time = (chords: ChordPlan): number => chords.reduce((sum, c) => sum + toNumber(c.length), 0);
  const barred = plan.filter((c) => !isOpen(shapeOf(c.chord, fret)));
  return time(barred) / (time(plan) || 1);
};

const familyOf = ({ tonic, mode }: Key, fret: number): string | null => {
  if (tonic === null || mode === null) return null;
  const minor = mode === 'minor' || mode === 'dorian' || mode === 'phrygian';
  return printedChord(shapeOf({ root: tonic, quality: minor ? 'minor' : 'major' }, fret));
};

/**
 * At which fret does a capo make the chords easiest to hold?
 * @returns null for a tune without chords
 */
export const capoHintOf = (plan: ChordPlan, key: Key): CapoHint | null => {
  if (plan.length === 0) return null;
  const frets = Array.from({ length: HIGHEST_FRET + 1 }, (_, fret) => fret);
  const cost = (fret: number): number =>
    barredShare(plan, fret) + (fret > 0 ? COST.capo : 0) + fret * COST.fret;
  const fret = frets.reduce((best, f) => (cost(f) < cost(best) - 1e-9 ? f : best), 0);
  const chords = new Map<string, GuitarChord>();
  for (const { chord } of plan) {
    const { bass: _, ...plain } = chord;
    const shape = shapeOf(plain, fret);
    const name = printedChord(plain);
    if (!chords.has(name)) chords.set(name, { name, shape: printedChord(shape), open: isOpen(shape) });
  }
  return { fret, family: familyOf(key, fret), chords: [...chords.values()] };
};

const ordinal = (n: number): string => `${n}${n === 1 ? 'st' : n === 2 ? 'nd' : n === 3 ? 'rd' : 'th'}`;

const barreWords = (chords: readonly GuitarChord[], how: (chord: GuitarChord) => string): string => {
  const barred = chords.filter((c) => !c.open);
  if (barred.length === 0) return 'all its chords are open shapes';
  const names = joined(barred.map(how));
  if (barred.length === chords.length) return `${names} ${barred.length === 1 ? 'is a barre' : 'are barres'}`;
  return `only ${names} ${barred.length === 1 ? 'needs' : 'need'} a barre`;
};

/**
 * The hint as one line for the foot of a chord grid.
 * @example capoWords(hint) // "Guitar: capo at the 3rd fret, D shapes: F is held as D, B♭ as G, C as A."
 */
export const capoWords = ({ fret, family, chords }: CapoHint): string => {
  if (fret === 0) return `Guitar: no capo; ${barreWords(chords, (c) => c.name)}.`;
  const held = chords.map((c, i) => `${c.name} ${i === 0 ? 'is held ' : ''}as ${c.shape}`);
  const barre = chords.some((c) => !c.open) ? ` (${barreWords(chords, (c) => c.name)})` : '';
  const shapes = family === null ? '' : `, ${family} shapes`;
  return `Guitar: capo at the ${ordinal(fret)} fret${shapes}: ${joined(held)}${barre}.`;
};
