import { type XmlElement as Node, XmlDocument, XmlElement, type XmlTreeNode } from 'libxml2-wasm';
import { add, asWholeNotes, parseRational, rational, type WholeNotes, wholeNotes } from '../../core/index.ts';

/** A note or rest as it stands in a MusicXML file, read without any of the writer's code. */
export interface ReadNote {
  /** From the start of the measure. */
  readonly onset: WholeNotes;
  readonly length: WholeNotes;
  /** "F#5"; null for a rest. */
  readonly pitch: string | null;
  readonly step: string;
  readonly octave: number;
  readonly alter: number;
  readonly grace: boolean;
  readonly chord: boolean;
  /** Printed before it. */
  readonly accidental: string | null;
  readonly ties: readonly string[];
  readonly tied: readonly string[];
  readonly beams: readonly string[];
  /** "start 1". */
  readonly slurs: readonly string[];
  readonly tuplets: readonly string[];
  readonly written: { readonly type: string; readonly dots: number; readonly ratio: string | null };
}

/** A measure as read. */
export interface ReadMeasure {
  readonly number: string;
  readonly implicit: boolean;
  readonly length: WholeNotes;
  readonly notes: readonly ReadNote[];
  /** Alteration by letter, where the measure says a key. */
  readonly key: Readonly<Record<string, number>> | null;
  /** "start 1, 3", "stop 1, 3". */
  readonly endings: readonly string[];
  readonly repeats: readonly string[];
  /** Style of the right line; "regular" when nothing is said. */
  readonly line: string;
}

const childrenOf = (node: Node, name: string): readonly Node[] => {
  const found: Node[] = [];
  for (let child: XmlTreeNode | null = node.firstChild; child !== null; child = child.next) {
    if (child instanceof XmlElement && child.name === name) found.push(child);
  }
  return found;
};
const child = (node: Node, ...path: readonly string[]): Node | null => {
  let at: Node | null = node;
  for (const name of path) at = at === null ? null : (childrenOf(at, name)[0] ?? null);
  return at;
};
const textOf = (node: Node, ...path: readonly string[]): string | null =>
  child(node, ...path)?.content ?? null;
const attribute = (node: Node, name: string): string | null => node.attr(name)?.value ?? null;

const ALTERS: Readonly<Record<number, string>> = { [-2]: 'bb', [-1]: 'b', 0: '', 1: '#', 2: '##' };
const SHARPS = ['F', 'C', 'G', 'D', 'A', 'E', 'B'];

const readKey = (measure: Node): Readonly<Record<string, number>> | null => {
  const key = child(measure, 'attributes', 'key');
  if (key === null) return null;
  const alters: Record<string, number> = {};
  const fifths = Number(textOf(key, 'fifths') ?? 0);
  for (const step of fifths > 0 ? SHARPS.slice(0, fifths) : SHARPS.toReversed().slice(0, -fifths))
    alters[step] = Math.sign(fifths);
  const steps = childrenOf(key, 'key-step');
  const altered = childrenOf(key, 'key-alter');
  steps.forEach((step, i) => {
    alters[step.content] = Number(altered[i]?.content);
  });
  return alters;
};

/** "1/8" of a whole note from a number of divisions. */
const lengthOf = (duration: string | null, divisions: number): WholeNotes => {
  if (duration === null) return wholeNotes(0);
  const [whole = '0', decimals = ''] = duration.split('.');
  const scale = 10 ** decimals.length;
  return asWholeNotes(
    rational(parseRational(whole).num * scale + Number(decimals || 0), scale * divisions * 4),
  );
};

const readNote = (note: Node, onset: WholeNotes, length: WholeNotes): ReadNote => {
  const step = textOf(note, 'pitch', 'step') ?? '';
  const alter = Number(textOf(note, 'pitch', 'alter') ?? 0);
  const octave = Number(textOf(note, 'pitch', 'octave') ?? 0);
  const notations = child(note, 'notations');
  const marks = (name: string): readonly Node[] => (notations === null ? [] : childrenOf(notations, name));
  const ratio = child(note, 'time-modification');
  return {
    onset,
    length,
    pitch: child(note, 'pitch') === null ? null : `${step}${ALTERS[alter]}${octave}`,
    step,
    octave,
    alter,
    grace: child(note, 'grace') !== null,
    chord: child(note, 'chord') !== null,
    accidental: textOf(note, 'accidental'),
    ties: childrenOf(note, 'tie').map((t) => attribute(t, 'type') ?? ''),
    tied: marks('tied').map((t) => attribute(t, 'type') ?? ''),
    beams: childrenOf(note, 'beam').map((b) => b.content),
    slurs: marks('slur').map((s) => `${attribute(s, 'type')} ${attribute(s, 'number')}`),
    tuplets: marks('tuplet').map((t) => attribute(t, 'type') ?? ''),
    written: {
      type: textOf(note, 'type') ?? '',
      dots: childrenOf(note, 'dot').length,
      ratio: ratio === null ? null : `${textOf(ratio, 'actual-notes')}:${textOf(ratio, 'normal-notes')}`,
    },
  };
};

const readNotes = (measure: Node, divisions: number) => {
  let now = wholeNotes(0);
  let before = now;
  const notes = childrenOf(measure, 'note').map((note) => {
    const length = lengthOf(textOf(note, 'duration'), divisions);
    if (child(note, 'chord') !== null) return readNote(note, before, length);
    before = now;
    if (child(note, 'grace') === null) now = asWholeNotes(add(now, length));
    return readNote(note, before, length);
  });
  return { notes, length: now };
};

/** The measures of every part of a MusicXML text, by part id. */
export const readMusicXml = (text: string): ReadonlyMap<string, readonly ReadMeasure[]> => {
  const document = XmlDocument.fromString(text);
  try {
    const parts = childrenOf(document.root, 'part').map((part) => {
      let divisions = 1;
      const measures = childrenOf(part, 'measure').map((measure): ReadMeasure => {
        divisions = Number(textOf(measure, 'attributes', 'divisions') ?? divisions);
        const barlines = childrenOf(measure, 'barline');
        const right = barlines.find((b) => attribute(b, 'location') === 'right');
        return {
          number: attribute(measure, 'number') ?? '',
          implicit: attribute(measure, 'implicit') === 'yes',
          ...readNotes(measure, divisions),
          key: readKey(measure),
          endings: barlines
            .flatMap((b) => childrenOf(b, 'ending'))
            .map((e) => `${attribute(e, 'type')} ${attribute(e, 'number')}`),
          repeats: barlines
            .flatMap((b) => childrenOf(b, 'repeat'))
            .map((r) => attribute(r, 'direction') ?? ''),
          line: (right === undefined ? null : textOf(right, 'bar-style')) ?? 'regular',
        };
      });
      return [attribute(part, 'id') ?? '', measures] as const;
    });
    return new Map(parts);
  } finally {
    document.dispose();
  }
};
