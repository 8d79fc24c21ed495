import {
  CARE_LINE,
  capital,
  creditOf,
  dateWords,
  fullestOf,
  inSentence,
  keptRemarks,
  type Lesson,
  RIGHTS_LINE,
  sourceOfSetting,
  summaryOf,
  TEMPO_NAMES,
  type TeachingNotes,
  tempoOf,
  tempoWords,
  titlesOf,
  togetherFit,
  togetherName,
  versionRemarks,
  wayRemarks,
} from '../lesson/index.ts';
import { TEMPO_STEPS } from '../music/index.ts';
import { escapeHtml as h, paragraphs } from './html.ts';
import {
  type NotePictures,
  ornamentSection,
  pair,
  partSections,
  placelessSection,
  tuneSection,
} from './notesSections.ts';

const STYLE = `
:root { color-scheme: light; }
body { margin: 0 auto; padding: 2.5rem 1.25rem 4rem; max-width: 42rem; background: #fffdf8; color: #221d18;
  font: 1.05rem/1.55 Tinos, "Times New Roman", Georgia, serif; }
h1 { font-size: 2rem; line-height: 1.15; margin: 0 0 .2rem; font-weight: 700; }
h2 { font-size: 1.25rem; margin: 2.2rem 0 .5rem; border-top: 1px solid #cbbfa9; padding-top: .9rem; }
.about { margin: 0; }
.music { margin: .3rem 0 .6rem; overflow-x: auto; }
.music svg { max-width: 100%; height: auto; display: block; }
dl { margin: 0; display: grid; grid-template-columns: minmax(7.5rem, max-content) 1fr; gap: .3rem 1.1rem; }
dt { font-weight: 700; } dd { margin: 0; }
ul, ol { margin: .3rem 0 .6rem; padding-left: 1.3rem; } li { margin: .25rem 0; }
details { margin: .5rem 0; } summary { cursor: pointer; color: #6a5f52; }
.ornaments { display: block; } .ornaments dt { margin-top: .9rem; } .ornaments p { margin: .25rem 0; }
.ornaments .music { float: right; max-width: 45%; margin: 0 0 .4rem 1rem; } .ornaments dd::after { content: ''; display: block; clear: both; }
.hand { padding-left: 1rem; text-indent: -1rem; } .slow, .drill { font-style: italic; }
a { color: inherit; }
.same { color: #6a5f52; }
.quiet { color: #6a5f52; font-size: .92rem; margin: .4rem 0 0; }
@media (max-width: 30rem) { dl { grid-template-columns: 1fr; gap: 0; } dd { margin: 0 0 .5rem; } }
@page { margin: 14mm 17mm; }
@media print { body { background: none; padding: 0; font-size: 10pt; line-height: 1.35; max-width: none; }
  h1 { font-size: 20pt; } h2 { font-size: 13pt; margin: 4mm 0 1mm; padding-top: 1.5mm; break-after: avoid; }
  details:not([open]), details[open] > summary { display: none; }
  dt { break-after: avoid; } li, dd, .music, p { break-inside: avoid; } .ornaments .music { max-width: 50mm; }
  a[href]::after { content: ' (' attr(href) ')'; } }
`;

/** The first version that a learner of the whole tune takes. */
const firstWithAllNotes = (lesson: Lesson): string =>
  `${(lesson.ladder.find(({ kind }) => kind !== 'bones') ?? fullestOf(lesson)).name}, to learn`;

const tempoRows = (lesson: Lesson): readonly string[] => [
  ...lesson.ladder
    .slice(0, -1)
    .filter(({ kind }) => kind === 'bones')
    .map(({ name, kind }) => pair(`${name}, to learn`, tempoWords(lesson, tempoOf(lesson, 'learn', kind)))),
  ...TEMPO_STEPS.map((step) => {
    const name = step === 'learn' ? firstWithAllNotes(lesson) : capital(TEMPO_NAMES[step]);
    return pair(name, tempoWords(lesson, tempoOf(lesson, step, 'full')));
  }),
];

/** How each version goes with the next, and all of them where they are more than two. */
const fitRows = (lesson: Lesson): readonly string[] => {
  const all = lesson.ladder.length > 2 ? togetherFit(lesson.ladder) : null;
  return [
    ...lesson.fits.map(({ simpler, fuller, fit }) =>
      pair(`${simpler.name} with ${inSentence(fuller.name)}`, fit.words),
    ),
    ...(all === null ? [] : [pair(togetherName(lesson.ladder.length), all.words)]),
  ];
};

/**
 * The notes on a tune as one page that needs nothing else: story, credit, tempi, what a teacher says of the
 * whole, the parts and the ornaments, and bar by bar what is in it.
 *
 * Nothing in the lesson can become markup, and the page may load nothing (its own policy says so).
 * @param notes - of the same lesson
 * @param pictures - see `partPictures` and `ornamentPictures`
 */
export const notesPage = (lesson: Lesson, notes: TeachingNotes, pictures: NotePictures): string => {
  const [title = '', ...others] = titlesOf(lesson);
  const source = sourceOfSetting(lesson);
  const { teacher, date, words } = lesson.settings;
  return `<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'">
<title>${h(title)}: notes</title>
<style>${STYLE}</style>
</head>
<body>
<h1>${h(title)}</h1>
${others.map((o) => `<p class="quiet">Also called ${h(o)}</p>`).join('\n')}
<p class="about">${h(summaryOf(lesson))} Tune: ${h(creditOf(lesson).replace(/\.$/, ''))}.${source === '' ? '' : ` Setting: ${h(source)}.`}</p>
<p class="quiet">${[teacher === '' ? '' : `Taught by ${h(teacher)}. `, h(dateWords(date, words))].join('')}</p>
${paragraphs(lesson.settings.story)}
<h2>How fast</h2>
<dl>
${tempoRows(lesson).join('\n')}
</dl>
<p class="quiet">${h(CARE_LINE)}</p>
${tuneSection(lesson, notes)}
${partSections(notes, pictures).join('\n')}
${ornamentSection(lesson, notes, pictures)}
<h2>Do the versions fit?</h2>
<dl>
${fitRows(lesson).join('\n')}
</dl>
${[
  ...keptRemarks(lesson).flatMap(({ asks, words: said }) => (asks ? [said] : [])),
  ...wayRemarks(lesson),
  ...versionRemarks(lesson),
]
  .map((said) => `<p class="quiet">${h(said)}</p>`)
  .join('\n')}
${placelessSection(notes)}
<p class="quiet">${h(RIGHTS_LINE)}</p>
</body>
</html>
`;
};
