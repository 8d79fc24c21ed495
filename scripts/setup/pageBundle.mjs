import { existsSync, mkdirSync, writeFileSync } from 'node:fs';
import { syncBuiltinESMExports } from 'node:module';
import { join } from 'node:path';
import util from 'node:util';

/** The learner's page without a lesson, in dist/: `{ script, style, thread }`, each the text of one file. */
export const PAGE_BUNDLE = 'practice.json';

/** The workbench's page in dist/: index.html, its scripts and styles, and the script of the sound thread. */
export const WORKBENCH = 'workbench';

const PAGE = join('src', 'practice', 'main.ts');
const THREAD = join('src', 'player', 'soundThread.ts');
const WORKBENCH_PAGE = join('src', 'web');

/** Small houses in tests have no page. */
export const hasPage = (root) => existsSync(join(root, PAGE));

/**
 * Bundles the pages: the learner's as one script, one style, and the script of its sound thread; the workbench's as files.
 * @returns {Promise<string | null>} null when it went well, else what the bundler said
 */
export const bundlePages = async (root) => {
  try {
    const thread = await bundled(root, THREAD);
    const page = await bundled(root, PAGE);
    mkdirSync(join(root, 'dist'), { recursive: true });
    writeFileSync(
      join(root, 'dist', PAGE_BUNDLE),
      JSON.stringify({ script: page.script, style: page.style, thread: thread.script }),
    );
    if (existsSync(join(root, WORKBENCH_PAGE))) await bundleWorkbench(root, thread.script);
    return null;
  } catch (error) {
    return `The pages cannot be bundled: ${error.message}`;
  }
};

/** One entry as a single script that needs no module loader; browsers of the last five years run it. */
const bundled = async (root, entry) => {
  styleSeveral();
  // Loaded here: before the packages are installed there is none.
  const { build } = await import('vite');
  const result = await build({
    root,
    configFile: false,
    logLevel: 'silent',
    build: {
      write: false,
      target: ['chrome91', 'firefox90', 'safari15'],
      modulePreload: false,
      lib: {
        entry: join(root, entry),
        formats: ['iife'],
        name: 'page',
        fileName: 'page',
        cssFileName: 'page',
      },
      minify: true,
    },
  });
  const { output } = Array.isArray(result) ? result[0] : result;
  const script = output.find((piece) => piece.type === 'chunk')?.code ?? '';
  const style = String(output.find((piece) => piece.fileName.endsWith('.css'))?.source ?? '');
  return { script, style };
};

const bundleWorkbench = async (root, thread) => {
  const { build } = await import('vite');
  const outDir = join(root, 'dist', WORKBENCH);
  await build({
    root: join(root, WORKBENCH_PAGE),
    configFile: false,
    logLevel: 'silent',
    publicDir: false,
    worker: { format: 'es' },
    build: {
      outDir,
      emptyOutDir: true,
      target: ['chrome91', 'firefox114', 'safari15'],
      modulePreload: { polyfill: false },
      assetsInlineLimit: 0,
      chunkSizeWarningLimit: 8000,
    },
  });
  writeFileSync(join(outDir, 'thread.js'), thread);
};

/** The bundler's parts ask for several styles of a text at once, which Node before 20.18 does not know. */
const styleSeveral = () => {
  try {
    util.styleText(['bold', 'red'], '');
  } catch {
    const { styleText } = util;
    util.styleText = (styles, text) => [styles].flat().reduce((t, style) => styleText(style, t), text);
    syncBuiltinESMExports();
  }
};
