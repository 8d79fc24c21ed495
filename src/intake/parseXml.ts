import { XmlElement as ParsedElement, parseXml as parse, XmlError, XmlText } from '@rgrove/parse-xml';
import { type XmlElement, xml } from '../notation/index.ts';

/** Elements inside each other beyond this are no music. Ours. */
const DEEPEST = 100;

/** The document's outermost element, or what is wrong with the text, with line and column. */
export type ParsedXml =
  | { readonly kind: 'element'; readonly root: XmlElement }
  | { readonly kind: 'problem'; readonly message: string };

const ourElement = (element: ParsedElement, depth: number): XmlElement =>
  xml(
    element.name,
    element.attributes,
    element.children.flatMap((child): readonly (XmlElement | string)[] => {
      if (child instanceof XmlText) return [child.text];
      return child instanceof ParsedElement && depth < DEEPEST ? [ourElement(child, depth + 1)] : [];
    }),
  );

/**
 * Parses XML.
 *
 * Entities of a document's own are not resolved and nothing outside is ever read: a file that asks for it is refused.
 */
export const parseXml = (text: string): ParsedXml => {
  try {
    const { root } = parse(text);
    return root === null
      ? { kind: 'problem', message: 'the file holds no element.' }
      : { kind: 'element', root: ourElement(root, 0) };
  } catch (error) {
    if (error instanceof RangeError)
      return { kind: 'problem', message: 'its elements are nested too deeply.' };
    if (!(error instanceof XmlError)) throw error;
    const reason = error.message.split('\n')[0]?.replace(/ \(line.*$/, '') ?? '';
    return { kind: 'problem', message: `line ${error.line}, column ${error.column}: ${reason}.` };
  }
};
