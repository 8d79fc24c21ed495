/** Draws SVG into a PDF document. Source: README of svg-to-pdfkit 0.1.8. */
declare module 'svg-to-pdfkit' {
  /** What we ask of it; families and colours are looked up by callbacks. */
  interface SvgToPdfOptions {
    readonly width?: number;
    readonly height?: number;
    readonly assumePt?: boolean;
    readonly fontCallback?: (family: string, bold: boolean, italic: boolean) => string;
    readonly warningCallback?: (message: string) => void;
  }
  const svgToPdf: (
    document: PDFKit.PDFDocument,
    svg: string,
    x: number,
    y: number,
    options?: SvgToPdfOptions,
  ) => void;
  // biome-ignore lint/style/noDefaultExport: the package exports it so
  export default svgToPdf;
}
