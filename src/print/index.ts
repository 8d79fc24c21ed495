export { FONT_FILES } from './fonts.ts';
export type { PdfMeta } from './pdfOf.ts';
export { pdfOf } from './pdfOf.ts';
export { pngOf } from './pngOf.ts';
