import { fileURLToPath } from 'node:url';

const fontFile = (name: string): string =>
  fileURLToPath(new URL(`../../assets/fonts/${name}.ttf`, import.meta.url));

/** The font files that sheets are set in. */
export const FONT_FILES = {
  regular: fontFile('Tinos-Regular'),
  italic: fontFile('Tinos-Italic'),
  bold: fontFile('Tinos-Bold'),
  sign: fontFile('Leipzig'),
} as const;
