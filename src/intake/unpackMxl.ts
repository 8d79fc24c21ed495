import { unzipSync } from 'fflate';
import { attributeOf, childrenNamed, elementAt } from '../notation/index.ts';
import { parseXml } from './parseXml.ts';

/** The largest file that is unpacked, in bytes: a small archive may hold a huge one. Ours: a long tune has 1 MB. */
const LARGEST_UNPACKED = 20_000_000;
/** Where a compressed MusicXML file says which of its files is the score. Source: MusicXML 4.0, "Compressed .MXL files". */
const CONTAINER = 'META-INF/container.xml';

/** The score inside a compressed MusicXML file, or what is wrong with it. */
export type UnpackedMxl =
  | { readonly kind: 'bytes'; readonly bytes: Uint8Array }
  | { readonly kind: 'problem'; readonly message: string };

const problem = (message: string): UnpackedMxl => ({ kind: 'problem', message });

const rootFileOf = (container: Uint8Array | undefined): string | null => {
  const parsed = container === undefined ? null : parseXml(new TextDecoder().decode(container));
  if (parsed?.kind !== 'element') return null;
  const files = elementAt(parsed.root, 'rootfiles');
  const [first] = files === null ? [] : childrenNamed(files, 'rootfile');
  return first === undefined ? null : attributeOf(first, 'full-path');
};

/** Takes the score out of a compressed MusicXML file (.mxl). */
export const unpackMxl = (archive: Uint8Array): UnpackedMxl => {
  let tooLarge = false;
  const unpack = (wanted: (name: string) => boolean): Record<string, Uint8Array> =>
    unzipSync(archive, {
      filter: ({ name, originalSize }) => {
        if (!wanted(name)) return false;
        tooLarge ||= originalSize > LARGEST_UNPACKED;
        return originalSize <= LARGEST_UNPACKED;
      },
    });
  try {
    const name = rootFileOf(unpack((n) => n === CONTAINER)[CONTAINER]);
    const isScore = (n: string): boolean =>
      name === null ? !n.startsWith('META-INF/') && /\.(musicxml|xml)$/i.test(n) : n === name;
    const [score] = Object.values(unpack(isScore));
    if (tooLarge) return problem(`it unpacks to more than ${LARGEST_UNPACKED / 1e6} MB, which no tune does.`);
    return score === undefined
      ? problem('there is no MusicXML score in this archive.')
      : { kind: 'bytes', bytes: score };
  } catch {
    return problem('the archive is damaged. Export the tune again.');
  }
};
