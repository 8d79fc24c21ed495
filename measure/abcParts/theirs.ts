import abcjs from 'abcjs';
import { barText, type NoteFact, passesText, type TuneFacts } from './facts.ts';

/** The parts of abcjs's parse that are compared; its own types leave some of them out. */
interface Pitch {
  readonly pitch: number;
  readonly accidental?: string;
  readonly startTie?: unknown;
}
interface Element {
  readonly el_type: string;
  readonly startChar: number;
  readonly endChar: number;
  readonly type?: string;
  readonly startEnding?: string;
  readonly pitches?: readonly Pitch[];
  readonly rest?: { readonly type: string; readonly text?: number };
  readonly duration?: number;
  readonly gracenotes?: readonly Pitch[];
  readonly startTriplet?: number;
  readonly tripletMultiplier?: number;
  readonly tripletR?: number;
  readonly endTriplet?: boolean;
  readonly accidentals?: readonly KeyAccidental[];
  readonly value?: readonly { readonly num: string; readonly den?: string }[];
}
interface KeyAccidental {
  readonly acc: string;
  readonly note: string;
}
interface Staff {
  readonly key: { readonly accidentals: readonly KeyAccidental[] };
  readonly meter?: Meter;
  readonly voices: readonly (readonly Element[])[];
}
interface Meter {
  readonly type: string;
  readonly value?: readonly { readonly num: string; readonly den?: string }[];
}
interface Tune {
  readonly lines: readonly { readonly staff?: readonly Staff[] }[];
}

const ALTERS: Readonly<Record<string, number>> = {
  dblflat: -2,
  flat: -1,
  natural: 0,
  sharp: 1,
  dblsharp: 2,
  quartersharp: 1,
  quarterflat: -1,
};
const SEMITONES = [0, 2, 4, 5, 7, 9, 11];
const LETTERS = 'CDEFGAB';
const MIDDLE_C = 60;

const LINES: Readonly<Record<string, string>> = {
  bar_thin: '|',
  bar_thin_thin: '||',
  bar_thin_thick: '|]',
  bar_thick_thin: '[|',
  bar_invisible: '[|]',
  bar_dotted: '.|',
};
const STRENGTH = ['', '|', '.|', '[|]', '||', '[|', '|]'];

const metreText = (meter: Meter | undefined): string => {
  if (meter === undefined) return 'none';
  if (meter.type === 'common_time') return '4/4';
  if (meter.type === 'cut_time') return '2/2';
  const value = meter.value?.[0];
  return value === undefined ? 'none' : `${value.num.replaceAll(/[() ]/g, '')}/${value.den ?? ''}`;
};

/** Walks a tune as abcjs parsed it, keeping what is in force. Accidentals hold in all octaves, as ABC 2.1, 11.3, says. */
class Walk {
  readonly notes: NoteFact[] = [];
  private key = new Map<string, number>();
  private held = new Map<number, number>();
  private tied = new Map<number, number>();
  private metre = 'none';
  private line = '';
  private repeatEnd = false;
  private repeatStart = false;
  private ending = '';
  private tuplet: { text: string; factor: number } | null = null;

  setKey(accidentals: readonly KeyAccidental[]): void {
    this.key = new Map(accidentals.map(({ acc, note }) => [note.toUpperCase(), ALTERS[acc] ?? 0]));
  }

  setMetre(meter: Meter | undefined): void {
    if (meter !== undefined) this.metre = metreText(meter);
  }

  bar(element: Element): void {
    const type = element.type ?? '';
    if (type === 'bar_right_repeat' || type === 'bar_dbl_repeat') this.repeatEnd = true;
    if (type === 'bar_left_repeat' || type === 'bar_dbl_repeat') this.repeatStart = true;
    // An ending that stands without a bar line comes as an invisible one.
    const standsForEnding = type === 'bar_invisible' && element.startEnding !== undefined;
    const line = standsForEnding ? '' : (LINES[type] ?? '|');
    if (STRENGTH.indexOf(line) > STRENGTH.indexOf(this.line)) this.line = line;
    if (element.startEnding !== undefined) this.ending = passesText(element.startEnding);
    this.held.clear();
  }

  closing(): string {
    const first = this.notes.length === 0;
    return barText(first ? '' : this.line, !first && this.repeatEnd, this.repeatStart);
  }

  private sounding(pitch: Pitch): number {
    const letter = ((pitch.pitch % 7) + 7) % 7;
    const natural = MIDDLE_C + 12 * Math.floor(pitch.pitch / 7) + (SEMITONES[letter] ?? 0);
    if (pitch.accidental !== undefined) {
      const alter = ALTERS[pitch.accidental] ?? 0;
      this.held.set(letter, alter);
      return natural + alter;
    }
    const carried = this.tied.get(pitch.pitch);
    return natural + (carried ?? this.held.get(letter) ?? this.key.get(LETTERS.charAt(letter)) ?? 0);
  }

  note(element: Element): void {
    if (element.rest?.type === 'spacer') return;
    if (element.startTriplet !== undefined) {
      const multiplier = element.tripletMultiplier ?? 1;
      const normal = Math.round(multiplier * element.startTriplet);
      this.tuplet = { text: `${element.startTriplet}:${normal}`, factor: multiplier };
    }
    const graces = (element.gracenotes ?? []).map((g) => this.sounding(g));
    const pitches = (element.pitches ?? []).map((p) => ({ midi: this.sounding(p), ...p }));
    this.tied = new Map();
    for (const p of pitches) {
      if (p.startTie !== undefined)
        this.tied.set(
          p.pitch,
          p.midi - MIDDLE_C - 12 * Math.floor(p.pitch / 7) - (SEMITONES[((p.pitch % 7) + 7) % 7] ?? 0),
        );
    }
    const bars = element.rest?.type === 'multimeasure' ? (element.rest.text ?? 1) : 1;
    for (let n = 0; n < bars; n += 1) {
      this.notes.push({
        start: element.startChar,
        end: element.endChar,
        pitches: pitches.map((p) => p.midi).sort((a, b) => a - b),
        length: ((element.duration ?? 0) * (this.tuplet?.factor ?? 1)) / bars,
        tied: pitches.some((p) => p.startTie !== undefined),
        tuplet: this.tuplet?.text ?? '',
        graces,
        key: [...this.key]
          .filter(([, alter]) => alter !== 0)
          .map(([note, alter]) => note + (alter > 0 ? '#' : 'b').repeat(Math.abs(alter)))
          .sort()
          .join(' '),
        metre: this.metre,
        bar: n === 0 ? this.closing() : '|',
        ending: this.ending,
      });
      this.line = '';
      this.repeatEnd = false;
      this.repeatStart = false;
      this.ending = '';
    }
    if (element.endTriplet === true) this.tuplet = null;
  }
}

/** A tune as abcjs reads it (parse only): its first voice. */
export const theirFacts = (text: string): TuneFacts => {
  const [tune] = abcjs.parseOnly(text) as unknown as readonly Tune[];
  const walk = new Walk();
  for (const { staff } of tune?.lines ?? []) {
    const first = staff?.[0];
    if (first === undefined) continue;
    walk.setKey(first.key.accidentals);
    walk.setMetre(first.meter);
    for (const element of first.voices[0] ?? []) {
      if (element.el_type === 'bar') walk.bar(element);
      else if (element.el_type === 'note') walk.note(element);
      else if (element.el_type === 'key') walk.setKey(element.accidentals ?? []);
      else if (element.el_type === 'meter') walk.setMetre(element as unknown as Meter);
    }
  }
  return { notes: walk.notes, closing: walk.closing() };
};
