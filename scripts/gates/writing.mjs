import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import ts from 'typescript';
import { filesUnder } from '../setup/contentHash.mjs';

/** Lines; STYLE asks for about 300 and 60, the gate stops what is far beyond. Ours. */
const LONGEST_FILE = 400;
const LONGEST_FUNCTION = 80;
const OUR_FOLDERS = ['src', 'test', 'measure', 'bench', 'scripts', 'bin'];
/** Words that name a drawer and not a thing. */
const DRAWERS = new Set(['util', 'utils', 'helper', 'helpers', 'manager', 'managers']);

/** The doc gate: is every export of the inner rooms explained, every file and function of readable length and named? */
export const run = async (root) => {
  const { layers } = await import(pathToFileURL(join(root, 'layers.mjs')).href);
  const complaints = drawerNames(root);
  for (const name of filesUnder(join(root, 'src')).filter((n) => /\.tsx?$/.test(n))) {
    const text = readFileSync(join(root, 'src', name), 'utf8');
    const file = ts.createSourceFile(`src/${name}`, text, ts.ScriptTarget.ES2022, true);
    const isTest = /\.test\.tsx?$/.test(name) || name.includes('/testing/');
    const kind = layers[name.split('/')[0]]?.kind;
    complaints.push(...tooLongFile(file));
    if (isTest) continue;
    complaints.push(...tooLongFunctions(file));
    if (kind === 'pure' || kind === 'neutral') complaints.push(...withoutComment(file));
    if (kind === 'pure') complaints.push(...chanceAndClock(file));
  }
  return { complaints };
};

const lineOf = (file, node) => file.getLineAndCharacterOfPosition(node.getStart(file)).line + 1;

const each = (node, visit) => {
  visit(node);
  ts.forEachChild(node, (child) => each(child, visit));
};

const drawerNames = (root) => {
  const names = readdirSync(root)
    .filter((folder) => OUR_FOLDERS.includes(folder))
    .flatMap((folder) => filesUnder(join(root, folder)).map((name) => `${folder}/${name}`));
  return names
    .filter((name) => name.split(/[^A-Za-z]|(?=[A-Z])/).some((word) => DRAWERS.has(word.toLowerCase())))
    .map((name) => `drawer-name: ${name} says utils, helpers or manager and not what is in it`);
};

const tooLongFile = (file) => {
  const lines = file.text.replace(/\n$/, '').split('\n').length;
  if (lines <= LONGEST_FILE || file.fileName.endsWith('/data.ts')) return [];
  return [`long-file: ${file.fileName} has ${lines} lines, at most ${LONGEST_FILE}`];
};

const tooLongFunctions = (file) => {
  const found = [];
  each(file, (node) => {
    if (!ts.isFunctionLike(node) || node.body === undefined) return;
    const from = lineOf(file, node);
    const lines = file.getLineAndCharacterOfPosition(node.end).line + 1 - from + 1;
    if (lines > LONGEST_FUNCTION)
      found.push(`long-function: ${file.fileName}:${from} has ${lines} lines, at most ${LONGEST_FUNCTION}`);
  });
  return found;
};

const isExported = (statement) =>
  statement.modifiers?.some((modifier) => modifier.kind === ts.SyntaxKind.ExportKeyword) ?? false;

const isExplained = (statement) =>
  ts
    .getJSDocCommentsAndTags(statement)
    .some((doc) => ts.isJSDoc(doc) && (ts.getTextOfJSDocComment(doc.comment) ?? '').trim() !== '');

const namesOf = (statement) =>
  ts.isVariableStatement(statement)
    ? statement.declarationList.declarations.map((declaration) => declaration.name.getText())
    : [statement.name?.getText() ?? 'default'];

/** Names in `export { a, b }` without a `from`; with one, the symbol is explained where it is declared. */
const listedExports = (file) =>
  file.statements
    .filter(
      (s) => ts.isExportDeclaration(s) && s.moduleSpecifier === undefined && s.exportClause !== undefined,
    )
    .flatMap((s) => s.exportClause.elements ?? [])
    .map((element) => (element.propertyName ?? element.name).text);

const withoutComment = (file) => {
  const listed = new Set(listedExports(file));
  const found = [];
  // Overloads: the comment stands at the first of them.
  const explained = new Set();
  for (const statement of file.statements) {
    const declares =
      ts.isVariableStatement(statement) ||
      ts.isFunctionDeclaration(statement) ||
      ts.isClassDeclaration(statement) ||
      ts.isInterfaceDeclaration(statement) ||
      ts.isTypeAliasDeclaration(statement);
    if (!declares) continue;
    for (const name of namesOf(statement)) {
      if (isExplained(statement)) explained.add(name);
      else if ((isExported(statement) || listed.has(name)) && !explained.has(name))
        found.push(
          `no-comment: ${file.fileName}:${lineOf(file, statement)} exports ${name} without a doc comment`,
        );
    }
  }
  return found;
};

/** Chance and clock come into the inner rooms as arguments. */
const chanceAndClock = (file) => {
  const found = [];
  const complain = (node, what) =>
    found.push(`impure: ${file.fileName}:${lineOf(file, node)} uses ${what} in a pure room`);
  each(file, (node) => {
    if (ts.isPropertyAccessExpression(node)) {
      const text = node.getText(file);
      if (text === 'Math.random' || text === 'Date.now') complain(node, text);
    }
    const reads = ts.isNewExpression(node) || ts.isCallExpression(node);
    if (reads && node.expression.getText(file) === 'Date' && !node.arguments?.length)
      complain(node, 'the clock');
  });
  return found;
};
