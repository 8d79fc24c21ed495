import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { RelaxNGValidator, XmlDocument, XsdValidator } from 'libxml2-wasm';
import { xmlRegisterFsInputProviders } from 'libxml2-wasm/lib/nodejs.mjs';
import { describe, expect, test } from 'vitest';
import { readAbc, writeMei, writeMusicXml } from '../src/notation/index.ts';
import { musicXmlProblems } from '../src/notation/testing/musicXmlProblems.ts';
import { readMusicXml } from '../src/notation/testing/readMusicXml.ts';
import { barsOf, fieldsOf, notesOf, type Score, titleOf } from '../src/score/index.ts';

// Everything that we write in an open format is checked against the format's published schema, over every tune of the
// shared collections. To add a format: a validator from `schemaOf`, and one `describe` that writes each tune in it.

const SHARED = fileURLToPath(new URL('../../shared/data/', import.meta.url));
const MUSICXML_XSD = join(SHARED, 'standards/musicxml-4.0/musicxml-local.xsd');
const MEI_RNG = join(SHARED, 'standards/mei-5.1/mei-CMN.rng');
const here = existsSync(MUSICXML_XSD);
if (!here) process.stderr.write('schemas: skipped, the shared collections and schemas are not here\n');

xmlRegisterFsInputProviders();

/** A validator made from a schema file, by its ending: `.xsd` or `.rng`. Says what is wrong, or nothing. */
const schemaOf = (path: string): ((text: string) => string | null) => {
  const schema = XmlDocument.fromBuffer(readFileSync(path), { url: path });
  const validator = path.endsWith('.rng') ? RelaxNGValidator.fromDoc(schema) : XsdValidator.fromDoc(schema);
  return (text) => {
    const document = XmlDocument.fromString(text);
    try {
      validator.validate(document);
      return null;
    } catch (error) {
      return error instanceof Error ? error.message : String(error);
    } finally {
      document.dispose();
    }
  };
};

interface NamedTune {
  /** For messages. */
  readonly name: string;
  readonly score: Score;
}
const readOnce = new Map<string, readonly NamedTune[]>();

/** Every tune with a note of a shared collection. */
const tunesOf = (collection: string): readonly NamedTune[] => {
  const known = readOnce.get(collection);
  if (known !== undefined) return known;
  const folder = join(SHARED, 'corpora', collection);
  const files = readdirSync(folder).filter((file) => file.endsWith('.abc'));
  const tunes = files.flatMap((file) =>
    readAbc(readFileSync(join(folder, file), 'utf8'))
      .tunes.filter(({ score }) => notesOf(score).length > 0)
      .map(({ score }) => ({ name: `${file} X:${score.number} ${titleOf(score)}`, score })),
  );
  readOnce.set(collection, tunes);
  return tunes;
};

const COLLECTIONS = here ? readdirSync(join(SHARED, 'corpora')).toSorted() : [];

describe.skipIf(!here)('MusicXML 4.0', () => {
  const validate = here ? schemaOf(MUSICXML_XSD) : () => null;
  const documentOf = (score: Score): string => {
    const [composer] = fieldsOf(score, 'C');
    const [source] = fieldsOf(score, 'S');
    return writeMusicXml({
      title: titleOf(score),
      date: '2026-11-25',
      ...(composer === undefined ? {} : { composer }),
      ...(source === undefined ? {} : { source }),
      parts: [{ id: 'full', name: 'Full version', score }],
    });
  };

  test('the validator refuses what is wrong', () => {
    const [tune] = tunesOf('oneill-1903-odd');
    const text = tune === undefined ? '' : documentOf(tune.score);
    expect(validate(text)).toBeNull();
    expect(validate(text.replace(/<octave>\d/, '<octave>14'))).toMatch(/octave/);
    expect(validate(text.replace('<voice>1</voice>', '<vioce>1</vioce>'))).toMatch(/vioce/);
  });

  test.each(COLLECTIONS)('every tune of %s is valid and reads back as it was', (collection) => {
    const tunes = tunesOf(collection);
    expect(tunes.length).toBeGreaterThan(100);
    const wrong = tunes.flatMap(({ name, score }) => {
      const text = documentOf(score);
      const invalid = validate(text);
      const parts = [...readMusicXml(text).values()];
      const problems = parts.flatMap((measures) => musicXmlProblems(score, measures));
      const all = [...(invalid === null ? [] : [invalid]), ...problems];
      return all.length === 0 ? [] : [`${name}: ${all.slice(0, 3).join('; ')}`];
    });
    expect(wrong).toEqual([]);
    const bars = tunes.reduce((sum, { score }) => sum + barsOf(score).length, 0);
    process.stdout.write(`${collection}: ${tunes.length} tunes, ${bars} bars\n`);
  });
});

describe.skipIf(!here)('MEI 5.1', () => {
  const validate = here ? schemaOf(MEI_RNG) : () => null;
  const documentOf = (score: Score): string =>
    writeMei({ title: titleOf(score), composer: null, staves: [{ id: 'full', name: null, score }] });

  test('the validator refuses what is wrong', () => {
    const [tune] = tunesOf('oneill-1903-odd');
    const text = tune === undefined ? '' : documentOf(tune.score);
    expect(validate(text)).toBeNull();
    expect(validate(text.replace(/pname="\w"/, 'pname="h"'))).not.toBeNull();
  });

  test.each(COLLECTIONS)('every tune of %s is valid', (collection) => {
    const wrong = tunesOf(collection).flatMap(({ name, score }) => {
      const invalid = validate(documentOf(score));
      return invalid === null ? [] : [`${name}: ${invalid.slice(0, 300)}`];
    });
    expect(wrong).toEqual([]);
  });
});
