import type { VerovioToolkit } from 'verovio/esm';
import { type Drawing, drawingOf } from './drawing.ts';
import { readSvg } from './svgTree.ts';

/** How a system is drawn. */
export interface DrawingOptions {
  /** Width to fill, in staff heights (the distance from lowest to highest line). */
  readonly width: number;
  /** False: the bars keep their natural width and `width` is only the most that they may take. Default true. */
  readonly justified?: boolean;
}

/** The engraving program, loaded once. */
export interface Engraver {
  /**
   * Draws the bars of an MEI document as one system.
   *
   * Equal documents and options are drawn once and remembered, so that after an edit only changed systems cost time.
   * @throws Error when the program cannot read the document (never the user's doing)
   */
  readonly draw: (mei: string, options: DrawingOptions) => Drawing;
  /** How many systems were really drawn so far: for tests of the memory. */
  readonly drawn: () => number;
}

/** Systems remembered: some twenty sheets. Ours. */
const REMEMBERED = 400;

/** A staff's height in the program's page units: eight half spaces of nine. */
const STAFF = 72;

/** Ours, looked at in print: a little denser than the program's own, and every bar numbered. */
const OPTIONS = {
  font: 'Leipzig',
  smuflTextFont: 'none',
  header: 'none',
  footer: 'none',
  adjustPageHeight: true,
  pageHeight: 60_000,
  pageMarginTop: 10,
  pageMarginBottom: 10,
  pageMarginLeft: 0,
  pageMarginRight: 0,
  mnumInterval: 1,
  openControlEvents: true,
  svgFormatRaw: true,
  svgRemoveXlink: true,
  spacingLinear: 0.25,
  spacingNonLinear: 0.6,
  staffLineWidth: 0.17,
  barLineWidth: 0.26,
  stemWidth: 0.2,
  staccatoCenter: true,
} as const;

type Toolkit = VerovioToolkit;

const drawWith = (toolkit: Toolkit, mei: string, options: DrawingOptions): Drawing => {
  toolkit.resetXmlIdSeed(1);
  toolkit.setOptions({
    ...OPTIONS,
    pageWidth: Math.max(100, Math.round(options.width * STAFF)),
    noJustification: options.justified === false,
    breaks: options.justified === false ? 'none' : 'encoded',
    minLastJustification: 0,
  });
  if (!toolkit.loadData(mei))
    throw new Error(`the engraving program cannot read the system: ${toolkit.getLog()}`);
  const pages = toolkit.getPageCount();
  if (pages !== 1) throw new Error(`a system became ${pages} pages`);
  const drawing = drawingOf(readSvg(toolkit.renderToSVG(1)));
  if (drawing.systems !== 1) throw new Error(`a system became ${drawing.systems}`);
  return drawing;
};

const remembering = (toolkit: Toolkit): Engraver => {
  const drawings = new Map<string, Drawing>();
  let count = 0;
  return {
    draw: (mei, options) => {
      const key = `${options.width} ${options.justified ?? true}\n${mei}`;
      const known = drawings.get(key);
      drawings.delete(key);
      if (known === undefined) count += 1;
      const drawing = known ?? drawWith(toolkit, mei, options);
      drawings.set(key, drawing);
      for (const oldest of drawings.keys()) {
        if (drawings.size <= REMEMBERED) break;
        drawings.delete(oldest);
      }
      return drawing;
    },
    drawn: () => count,
  };
};

/** What the program says aloud is also in its log, which we ask where it matters. */
const unheard = (): void => undefined;

let loading: Promise<Engraver> | null = null;

/** Seven megabytes of program: only a thread that draws has them. */
const load = async (): Promise<Engraver> => {
  const [{ enableLog, LOG_ERROR, VerovioToolkit }, { default: createVerovioModule }] = await Promise.all([
    import('verovio/esm'),
    import('verovio/wasm'),
  ]);
  const module = await createVerovioModule({ print: unheard, printErr: unheard });
  // It warns of valid MEI that it draws all the same: bracketSpan with @func="unspecified".
  enableLog(LOG_ERROR, module);
  return remembering(new VerovioToolkit(module));
};

/**
 * Loads the engraving program: about a third of a second the first time, nothing after that.
 * @throws Error with its cause when the program does not start
 */
export const loadEngraver = (): Promise<Engraver> => {
  loading ??= load();
  return loading;
};
