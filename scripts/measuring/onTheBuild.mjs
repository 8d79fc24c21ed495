import { readFile } from 'node:fs/promises';
import { fileURLToPath } from 'node:url';

// Module hooks (node:module register): measure/ and bench/ run as they are written, on the build. TypeScript is
// stripped as they load, and `../src/x.ts` means dist/x.js, so that what is timed is what is shipped.

const SOURCE = new URL('../../src/', import.meta.url).href;
const BUILD = new URL('../../dist/', import.meta.url).href;
const HERE = ['measure', 'bench'].map((folder) => new URL(`../../${folder}/`, import.meta.url).href);

/** Where an import leads: into src/, then to its compiled file. */
export const resolve = async (specifier, context, next) => {
  const isOurs = HERE.some((folder) => context.parentURL?.startsWith(folder));
  if (isOurs && /^\.\.?\//.test(specifier)) {
    const url = new URL(specifier, context.parentURL).href;
    if (url.startsWith(SOURCE)) {
      return next(BUILD + url.slice(SOURCE.length).replace(/\.ts$/, '.js'), context);
    }
  }
  return next(specifier, context);
};

/** The JavaScript of a TypeScript file of measure/ or bench/; its types are judged by `npm run quick`. */
export const load = async (url, context, next) => {
  if (!url.endsWith('.ts') || !HERE.some((folder) => url.startsWith(folder))) return next(url, context);
  const { default: ts } = await import('typescript');
  const { outputText } = ts.transpileModule(await readFile(new URL(url), 'utf8'), {
    fileName: fileURLToPath(url),
    compilerOptions: {
      target: ts.ScriptTarget.ES2022,
      module: ts.ModuleKind.ESNext,
      verbatimModuleSyntax: true,
      inlineSourceMap: true,
    },
  });
  return { format: 'module', source: outputText, shortCircuit: true };
};
