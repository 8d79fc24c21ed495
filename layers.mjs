// The one table of the house: which room may import which. `npm run check` enforces it, type imports
// included, and forbids cycles. A room is entered by its index.ts only.
// kind: pure = no DOM, Node, clock, console, packages; neutral = runs in Node and browser; node; web.

const base = ['core', 'music'];
const written = [...base, 'score'];
const inner = [...written, 'fiddle', 'harmony', 'versions', 'perform'];

/** @type {Record<string, {kind: 'pure'|'neutral'|'node'|'web', imports: string[], packages?: string[]}>} */
export const layers = {
  core: { kind: 'pure', imports: [] },
  music: { kind: 'pure', imports: ['core'] },
  signal: { kind: 'pure', imports: ['core'] },
  score: { kind: 'pure', imports: base },
  notation: { kind: 'pure', imports: written },
  fiddle: { kind: 'pure', imports: written },
  harmony: { kind: 'pure', imports: written },
  versions: { kind: 'pure', imports: [...written, 'fiddle', 'harmony'] },
  perform: { kind: 'pure', imports: [...written, 'fiddle', 'harmony'] },
  audio: { kind: 'pure', imports: ['core', 'signal', 'perform'] },
  listen: { kind: 'pure', imports: [...written, 'signal', 'perform'] },
  lesson: { kind: 'pure', imports: ['notation', ...inner] },
  sets: { kind: 'pure', imports: ['lesson', ...inner] },
  engrave: { kind: 'neutral', imports: ['lesson', 'notation', ...inner], packages: ['verovio'] },
  print: {
    kind: 'node',
    imports: ['core', 'engrave'],
    packages: ['pdfkit', 'svg-to-pdfkit', '@resvg/resvg-js'],
  },
  media: {
    kind: 'node',
    imports: ['core', 'signal'],
    packages: [
      'mediabunny',
      '@mediabunny/mp3-encoder',
      '@mediabunny/flac-encoder',
      '@audio/decode-mp3',
      '@audio/decode-flac',
      '@audio/decode-vorbis',
      '@audio/decode-opus',
      'signalsmith-stretch',
    ],
  },
  lessonfile: {
    kind: 'neutral',
    imports: ['core', 'music', 'fiddle', 'versions', 'perform', 'lesson', 'sets'],
    packages: ['zod'],
  },
  store: { kind: 'node', imports: [] },
  intake: {
    kind: 'node',
    imports: ['core', 'score', 'notation', 'store'],
    packages: ['@rgrove/parse-xml', 'fflate'],
  },
  pack: {
    kind: 'node',
    imports: [
      'store',
      'sets',
      'lesson',
      'engrave',
      'print',
      'media',
      'audio',
      'signal',
      'notation',
      ...inner,
    ],
    packages: ['fflate', 'zod'],
  },
  shelf: {
    kind: 'node',
    imports: ['store', 'lessonfile', 'lesson', 'notation', ...inner],
  },
  player: { kind: 'web', imports: ['audio', 'lesson', 'engrave', 'notation', ...inner] },
  practice: {
    kind: 'web',
    imports: ['player', 'audio', 'lesson', 'engrave', ...inner],
    packages: ['fflate'],
  },
  protocol: { kind: 'neutral', imports: [], packages: ['zod'] },
  web: {
    kind: 'web',
    imports: ['protocol', 'player', 'audio', 'lessonfile', 'lesson', 'engrave', 'notation', ...inner],
    packages: [
      'react',
      'react-dom',
      '@codemirror/state',
      '@codemirror/view',
      '@codemirror/commands',
      '@codemirror/lint',
      'node-diff3',
    ],
  },
  server: {
    kind: 'node',
    imports: [
      'protocol',
      'shelf',
      'store',
      'intake',
      'pack',
      'engrave',
      'audio',
      'lessonfile',
      'sets',
      'lesson',
      'notation',
      ...inner,
    ],
    packages: ['hono', '@hono/node-server'],
  },
  cli: {
    kind: 'node',
    imports: [
      'server',
      'media',
      'listen',
      'signal',
      'pack',
      'intake',
      'store',
      'lessonfile',
      'sets',
      'lesson',
      'notation',
      ...inner,
    ],
  },
  engine: { kind: 'node', imports: ['sets', 'lesson', 'notation', ...inner] },
};
