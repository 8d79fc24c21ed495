import PDFDocument from 'pdfkit';
import svgToPdf from 'svg-to-pdfkit';
import { type Page, SIGN_FAMILY } from '../engrave/index.ts';
import { FONT_FILES } from './fonts.ts';

/** What a PDF file says about itself. */
export interface PdfMeta {
  readonly title: string;
  /** The teacher; empty: not said. */
  readonly author: string;
  /** What it is ("Sheet for fiddle: The bones"); empty: not said. */
  readonly subject?: string;
  /** The day that the file bears, "2026-11-25": no clock is asked, so equal pages make equal bytes. */
  readonly date: string;
}

/** The day as a moment in UTC. @throws RangeError when the text is no date */
const dayOf = (date: string): Date => {
  const day = new Date(`${date}T12:00:00Z`);
  if (!/^\d{4}-\d{2}-\d{2}$/.test(date) || Number.isNaN(day.getTime()))
    throw new RangeError(`"${date}" is no date like 2026-11-25`);
  return day;
};

const fontOf = (family: string, bold: boolean, italic: boolean): string => {
  if (family.includes(SIGN_FAMILY)) return 'sign';
  return bold ? 'bold' : italic ? 'italic' : 'regular';
};

/**
 * Answers "which PDF file prints these pages?": text stays text, everything else is drawn as outlines.
 *
 * Fonts are embedded, as far as they are used. Equal input gives equal bytes.
 * @param pages - at least one
 * @throws RangeError without a page, or when the date is none
 * @throws Error when a page holds what cannot be printed (never the user's doing)
 */
export const pdfOf = async (pages: readonly Page[], meta: PdfMeta): Promise<Uint8Array> => {
  if (pages.length === 0) throw new RangeError('a PDF file needs a page');
  const day = dayOf(meta.date);
  const pdf = new PDFDocument({
    autoFirstPage: false,
    displayTitle: true,
    lang: 'en',
    info: {
      Title: meta.title,
      ...(meta.author === '' ? {} : { Author: meta.author }),
      ...(meta.subject === undefined || meta.subject === '' ? {} : { Subject: meta.subject }),
      Creator: 'Tuneladder',
      Producer: 'Tuneladder',
      CreationDate: day,
      ModDate: day,
    },
  });
  const chunks: Uint8Array[] = [];
  const ended = new Promise<void>((resolve, reject) => {
    pdf.on('data', (chunk: Uint8Array) => chunks.push(chunk));
    pdf.on('end', resolve);
    pdf.on('error', reject);
  });
  for (const [name, file] of Object.entries(FONT_FILES)) pdf.registerFont(name, file);
  const complaints: string[] = [];
  for (const page of pages) {
    pdf.addPage({ size: [page.width, page.height], margin: 0 });
    svgToPdf(pdf, page.svg, 0, 0, {
      width: page.width,
      height: page.height,
      assumePt: true,
      fontCallback: fontOf,
      warningCallback: (message) => complaints.push(message),
    });
  }
  pdf.end();
  await ended;
  if (complaints.length > 0) throw new Error(`the page cannot be printed: ${complaints[0]}`);
  return new Uint8Array(Buffer.concat(chunks));
};
