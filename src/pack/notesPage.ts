import {
  barNotesOf,
  bonesRemark,
  CARE_LINE,
  capital,
  creditOf,
  dateWords,
  fullestOf,
  inSentence,
  keptRemarks,
  type Lesson,
  ornamentNotesOf,
  RIGHTS_LINE,
  sourceOfSetting,
  summaryOf,
  TEMPO_NAMES,
  tempoOf,
  tempoWords,
  titlesOf,
  togetherFit,
  togetherName,
} from '../lesson/index.ts';
import { TEMPO_STEPS } from '../music/index.ts';
import { escapeHtml as h, paragraphs } from './html.ts';

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
.same { color: #6a5f52; }
.quiet { color: #6a5f52; font-size: .92rem; margin: .4rem 0 0; }
@media (max-width: 30rem) { dl { grid-template-columns: 1fr; gap: 0; } dd { margin: 0 0 .5rem; } }
@media print { body { background: none; padding: 0; font-size: 10.5pt; max-width: none; } h2 { break-after: avoid; } dt, dd { break-inside: avoid; } }
`;

const pair = (name: string, text: string, quiet = false): string =>
  `<dt>${h(name)}</dt><dd${quiet ? ' class="same"' : ''}>${h(text)}</dd>`;

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

const ornamentRows = (lesson: Lesson): readonly string[] =>
  ornamentNotesOf(lesson).map((o) =>
    pair(o.name.charAt(0).toUpperCase() + o.name.slice(1), `${o.places}. ${o.explanation}`),
  );

/** SVG elements by part label. */
type Pictures = ReadonlyMap<string, readonly string[]>;

const partSections = (lesson: Lesson, pictures: Pictures): readonly string[] => {
  const notes = barNotesOf(lesson);
  return lesson.written.parts.map((part) => {
    const rows = notes
      .filter((n) => n.part === part.label)
      .map((n) =>
        n.sameAs === null ? pair(n.label, n.sentences.join(' ')) : pair(n.label, `As ${n.sameAs}.`, true),
      );
    const music = (pictures.get(part.label) ?? []).map((svg) => `<div class="music">${svg}</div>`).join('\n');
    return `<h2>Part ${h(part.label)}</h2>\n${music}\n<dl>\n${rows.join('\n')}\n</dl>`;
  });
};

/**
 * The notes on a tune as one page that needs nothing else: story, credit, tempi, ornaments, what is in each bar.
 *
 * Nothing in the lesson can become markup, and the page may load nothing (its own policy says so).
 * @param pictures - the music of each part, see `partPictures`
 */
export const notesPage = (lesson: Lesson, pictures: Pictures): string => {
  const [title = '', ...others] = titlesOf(lesson);
  const source = sourceOfSetting(lesson);
  const ornaments = ornamentRows(lesson);
  const remark = bonesRemark(lesson);
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
<h2>Do the versions fit?</h2>
<dl>
${fitRows(lesson).join('\n')}
</dl>
${keptRemarks(lesson)
  .filter(({ asks }) => asks)
  .map(({ words }) => `<p class="quiet">${h(words)}</p>`)
  .join('\n')}
${remark === null ? '' : `<p class="quiet">${h(remark)}</p>`}
${ornaments.length === 0 ? '' : `<h2>The ornaments</h2>\n<dl>\n${ornaments.join('\n')}\n</dl>`}
${partSections(lesson, pictures).join('\n')}
<p class="quiet">${h(RIGHTS_LINE)}</p>
</body>
</html>
`;
};
