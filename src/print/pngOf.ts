import { renderAsync } from '@resvg/resvg-js';
import { type Page, TEXT_FAMILY } from '../engrave/index.ts';
import { FONT_FILES } from './fonts.ts';

/** Largest picture that is made, in pixels across. Ours: a sheet at 1,000 dots an inch. */
const WIDEST = 10_000;

/**
 * Draws a page as a PNG picture on white, with our own fonts alone, so that it looks alike on every machine.
 * @param width - in pixels, 1…10,000; the height follows
 * @throws RangeError when the width is out of that range
 */
export const pngOf = async (page: Page, width: number): Promise<Uint8Array> => {
  if (!Number.isInteger(width) || width < 1 || width > WIDEST)
    throw new RangeError(`a picture ${width} pixels wide: 1 to ${WIDEST}`);
  const image = await renderAsync(page.svg, {
    background: '#fff',
    fitTo: { mode: 'width', value: width },
    font: {
      loadSystemFonts: false,
      fontFiles: Object.values(FONT_FILES),
      defaultFontFamily: TEXT_FAMILY,
    },
  });
  return new Uint8Array(image.asPng());
};
