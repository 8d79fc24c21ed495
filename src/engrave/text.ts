import { type SvgElement, svg } from './svgTree.ts';
import { ADVANCES, WIDTH_BLOCKS } from './textWidths.ts';

/** A face of the text font. */
export type Face = keyof typeof ADVANCES;

/** Family of all words on a sheet, and of the musical signs among them. */
export const TEXT_FAMILY = 'Tinos';
/** Family of musical signs in text: sharps and flats in chord names. */
export const SIGN_FAMILY = 'Leipzig';

/** How a piece of text looks. */
export interface TextStyle {
  /** In points. */
  readonly size: number;
  readonly face?: Face;
  readonly anchor?: 'start' | 'middle' | 'end';
  readonly fill?: string;
}

/** Width of a character that the table does not know, as a share of the size: a wide one, so that nothing overflows. Ours. */
const UNKNOWN_WIDTH = 0.75;

/** Air before and after a sign, as a share of the words' size. Ours. */
const SIGN_GAP = 0.035;
/** Advance of ♭ ♮ ♯ as a share of their own size. Source: the Leipzig font. */
const SIGN_ADVANCES: Readonly<Record<string, number>> = { '♭': 0.269, '♮': 0.225, '♯': 0.272 };

/**
 * A picture whose sharps and flats keep to their place where the reader's machine has not got the font they are from.
 *
 * A browser takes one of its own then, and most are twice as wide.
 */
export const withSignsInPlace = (picture: string): string =>
  picture.replace(
    new RegExp(`(font-family="${SIGN_FAMILY}" font-size="([\\d.]+)")>([♭♮♯])<`, 'g'),
    (_, attributes: string, size: string, sign: string) => {
      const width = (SIGN_ADVANCES[sign] ?? 0) * Number(size);
      return `${attributes} textLength="${width.toFixed(1)}" lengthAdjust="spacingAndGlyphs">${sign}<`;
    },
  );

const tables = Object.fromEntries(
  Object.entries(ADVANCES).map(([face, blocks]) => {
    const table = new Map<number, number>();
    blocks.forEach((block, b) => {
      const first = WIDTH_BLOCKS[b]?.[0] ?? 0;
      block.split(' ').forEach((width, i) => {
        table.set(first + i, Number(width) / 1000);
      });
    });
    return [face, table];
  }),
) as unknown as Readonly<Record<Face, ReadonlyMap<number, number>>>;

/** How wide a line of text is, in the unit of `size`. */
export const widthOf = (text: string, size: number, face: Face = 'regular'): number => {
  let width = 0;
  for (const character of text) {
    const sign = SIGN_ADVANCES[character];
    width +=
      sign === undefined
        ? (tables[face].get(character.codePointAt(0) ?? 0) ?? UNKNOWN_WIDTH)
        : sign + 2 * SIGN_GAP;
  }
  return width * size;
};

/** A text's stretches of words and of musical signs, which come from another font. */
export const stretchesOf = (text: string): readonly { readonly text: string; readonly sign: boolean }[] =>
  text
    .split(/([♭♮♯]+)/)
    .filter((t) => t !== '')
    .map((t) => ({ text: t, sign: /^[♭♮♯]/.test(t) }));

const FACE_ATTRIBUTES: Readonly<Record<Face, Readonly<Record<string, string>>>> = {
  regular: {},
  italic: { 'font-style': 'italic' },
  bold: { 'font-weight': 'bold' },
};

/**
 * A line of text. Each stretch is placed by itself, so that every renderer sets them alike.
 * @param x - where the text starts, is centred or ends, by `anchor`
 * @param y - its baseline
 */
export const textAt = (x: number, y: number, text: string, style: TextStyle): SvgElement => {
  const face = style.face ?? 'regular';
  const total = widthOf(text, style.size, face);
  const shift = style.anchor === 'middle' ? total / 2 : style.anchor === 'end' ? total : 0;
  let at = x - shift;
  const runs = stretchesOf(text).map((stretch) => {
    const words = stretch.text.trimStart();
    // Renderers drop a space at the start of a text: it is left by placing the words after it.
    const indent = widthOf(stretch.text, style.size, face) - widthOf(words, style.size, face);
    const run = svg(
      'text',
      {
        x: at + indent + (stretch.sign ? style.size * SIGN_GAP : 0),
        y,
        // Words take the page's family.
        ...(stretch.sign ? { 'font-family': SIGN_FAMILY } : {}),
        // Signs have the words' own size: only then do programs that copy text take F♯m for one word.
        'font-size': style.size,
        ...(stretch.sign ? {} : FACE_ATTRIBUTES[face]),
        ...(style.fill === undefined ? {} : { fill: style.fill }),
      },
      [words],
    );
    at += widthOf(stretch.text, style.size, face);
    return run;
  });
  const [only] = runs;
  return runs.length === 1 && only !== undefined ? only : svg('g', {}, runs);
};

const ELLIPSIS = '…';

/** A text cut to a width, with an ellipsis where something is missing. */
export const cutTo = (
  text: string,
  width: number,
  style: { readonly size: number; readonly face?: Face },
): string => {
  if (widthOf(text, style.size, style.face) <= width) return text;
  const characters = [...text];
  while (characters.length > 0 && widthOf(characters.join('') + ELLIPSIS, style.size, style.face) > width)
    characters.pop();
  return `${characters.join('').trimEnd()}${ELLIPSIS}`;
};

/** A text broken at spaces into lines no wider than `width`; a single word that is wider is cut through. */
export const wrapped = (
  text: string,
  width: number,
  style: { readonly size: number; readonly face?: Face },
): readonly string[] => {
  const lines: string[] = [];
  let line = '';
  const fits = (t: string): boolean => widthOf(t, style.size, style.face) <= width;
  for (const word of text.split(/\s+/).filter((w) => w !== '')) {
    const longer = line === '' ? word : `${line} ${word}`;
    if (fits(longer)) {
      line = longer;
      continue;
    }
    if (line !== '') lines.push(line);
    line = word;
    while (!fits(line)) {
      const head = [...line];
      while (head.length > 1 && !fits(head.join(''))) head.pop();
      lines.push(head.join(''));
      line = [...line].slice(head.length).join('');
    }
  }
  if (line !== '') lines.push(line);
  return lines;
};
