import { existsSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import fc from 'fast-check';
import { XmlDocument, XsdValidator } from 'libxml2-wasm';
import { xmlRegisterFsInputProviders } from 'libxml2-wasm/lib/nodejs.mjs';
import { expect, test } from 'vitest';
import { musicXmlProblems } from '../testing/musicXmlProblems.ts';
import { paperScores } from '../testing/paperScores.ts';
import { readMusicXml } from '../testing/readMusicXml.ts';
import { scoreArbitrary } from '../testing/scoreArbitrary.ts';
import { writeMusicXml } from './writeMusicXml.ts';

const XSD = fileURLToPath(
  new URL('../../../../shared/data/standards/musicxml-4.0/musicxml-local.xsd', import.meta.url),
);
const here = existsSync(XSD);
if (!here) process.stderr.write('MusicXML: not validated, the published schema is not here\n');

/** Tunes as they are written, and sheets with everything that can be wrong on them. */
const scores = fc
  .oneof({ weight: 3, arbitrary: paperScores }, { weight: 1, arbitrary: scoreArbitrary })
  .filter((score) => score.parts.some((part) => part.bars.length > 0));
const RUNS = { seed: 20265, numRuns: 80 };

test('whatever is written reads back with its lengths, pitches, ties, slurs, beams and accidentals', () => {
  fc.assert(
    fc.property(scores, (score) => {
      const text = writeMusicXml({ title: 'Law', parts: [{ id: 'a', name: 'A', score }] });
      for (const measures of readMusicXml(text).values())
        expect(musicXmlProblems(score, measures)).toEqual([]);
    }),
    RUNS,
  );
});

test.skipIf(!here)('whatever is written is valid MusicXML 4.0', () => {
  xmlRegisterFsInputProviders();
  const validator = XsdValidator.fromDoc(XmlDocument.fromBuffer(readFileSync(XSD), { url: XSD }));
  fc.assert(
    fc.property(scores, fc.string({ unit: 'binary', maxLength: 20 }), (score, text) => {
      const document = XmlDocument.fromString(
        writeMusicXml({
          title: text,
          composer: text,
          date: '2026-11-25',
          parts: [
            { id: 'a', name: text, score },
            { id: 'b', name: 'B', score },
          ],
        }),
      );
      try {
        validator.validate(document);
      } finally {
        document.dispose();
      }
    }),
    RUNS,
  );
});
