import { XmlDocument } from 'libxml2-wasm';
import { expect, test } from 'vitest';
import { formatXml, xml, xmlText } from './xml.ts';

test('elements, text, attributes, what is left out', () => {
  const root = xml('a', { x: 1, y: undefined }, [xmlText('b', 'c'), null, xml('d')]);
  expect(formatXml(root, 'a SYSTEM "a.dtd"')).toBe(
    '<?xml version="1.0" encoding="UTF-8"?>\n<!DOCTYPE a SYSTEM "a.dtd">\n<a x="1">\n  <b>c</b>\n  <d/>\n</a>\n',
  );
});

test.each([
  ['markup stays text', '<b>&amp;</b> "x" \'y\' ]]>', '<b>&amp;</b> "x" \'y\' ]]>'],
  ['white space is kept', 'a\tb\nc\rd', 'a\tb\nc\rd'],
  ['what XML forbids is dropped', 'a\u0000b\u0008\u000b\u001fc\ufffe\uffffd\ud800e', 'abcde'],
  ['what it allows is kept', '\u007f\u0085é♭𝄞', '\u007f\u0085é♭𝄞'],
])('%s', (_, text, read) => {
  const document = XmlDocument.fromString(formatXml(xml('r', { t: text }, [xmlText('e', text)])));
  expect(document.get('/r/e')?.content).toBe(read);
  expect(document.get('/r/@t')?.content).toBe(read);
  document.dispose();
});
