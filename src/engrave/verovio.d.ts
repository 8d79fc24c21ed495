/** The WebAssembly module of the engraving program. Source: Verovio 6.3 toolkit reference. */
declare module 'verovio/wasm' {
  const createVerovioModule: (settings?: {
    readonly print?: (text: string) => void;
    readonly printErr?: (text: string) => void;
  }) => Promise<object>;
  // biome-ignore lint/style/noDefaultExport: the package exports it so
  export default createVerovioModule;
}

/** The engraving program's methods that we use. Source: Verovio 6.3 toolkit reference. */
declare module 'verovio/esm' {
  /** What the program says aloud and writes to its log, from this level of gravity on. */
  export function enableLog(level: number, module: object): void;
  export const LOG_ERROR: number;
  /** One engraver with its options and the document that it holds. */
  export class VerovioToolkit {
    constructor(module: object);
    getLog(): string;
    getPageCount(): number;
    getVersion(): string;
    loadData(data: string): boolean;
    renderToSVG(page?: number): string;
    resetXmlIdSeed(seed: number): void;
    setOptions(options: Readonly<Record<string, unknown>>): void;
  }
}
