const ENTITIES: Readonly<Record<string, string>> = {
  '&': '&amp;',
  '<': '&lt;',
  '>': '&gt;',
  '"': '&quot;',
  "'": '&#39;',
};

const LOWEST_PRINTABLE = 0x20;
const LINE_MAKERS = '\n\r\t';

const isPrintable = (character: string): boolean =>
  character >= String.fromCharCode(LOWEST_PRINTABLE) || LINE_MAKERS.includes(character);

/** Text as HTML text or attribute value: nothing in it can become markup. Control characters are dropped. */
export const escapeHtml = (text: string): string =>
  [...text]
    .filter(isPrintable)
    .join('')
    .replace(/[&<>"']/g, (c) => ENTITIES[c] ?? c);

/** Paragraphs of a text that are parted by blank lines, single line ends kept as breaks. */
export const paragraphs = (text: string): string =>
  text
    .split(/\r?\n\s*\r?\n/)
    .map((p) => p.trim())
    .filter((p) => p !== '')
    .map((p) => `<p>${escapeHtml(p).replace(/\r?\n/g, '<br>')}</p>`)
    .join('\n');
