import {
  type BarNote,
  capital,
  fingerMapOf,
  fingerMapStrings,
  type Lesson,
  type OrnamentRemark,
  phraseMapOf,
  type Remark,
  type StandingNote,
  stepWords,
  type TeachingNotes,
  type Technique,
  type TechniqueLink,
  webAddressProblem,
} from '../lesson/index.ts';
import { escapeHtml as h, paragraphs } from './html.ts';

/** Pictures of the notes page, as SVG elements: lines by part label, one bar by kind of ornament. */
export interface NotePictures {
  readonly parts: ReadonlyMap<string, readonly string[]>;
  readonly ornaments: ReadonlyMap<string, string>;
}

/** A term and what is said of it. */
export const pair = (name: string, text: string, quiet = false): string =>
  `<dt>${h(name)}</dt><dd${quiet ? ' class="same"' : ''}>${h(text)}</dd>`;

const list = (texts: readonly string[], ordered = false): string => {
  if (texts.length === 0) return '';
  const tag = ordered ? 'ol' : 'ul';
  return `<${tag}>\n${texts.map((t) => `<li>${h(t)}</li>`).join('\n')}\n</${tag}>`;
};

/** What is on tap: folded until somebody wants it; nothing where there is nothing in it. */
const folded = (name: string, content: string): string =>
  content === '' ? '' : `<details>\n<summary>${h(name)}</summary>\n${content}\n</details>`;

const remarks = (all: readonly Remark[], more: string): string => {
  const texts = (first: boolean): readonly string[] =>
    all.filter((r) => r.first === first).map((r) => r.saying.text);
  return `${list(texts(true))}\n${folded(more, list(texts(false)))}`;
};

const link = (to: TechniqueLink): string => {
  if ('lesson' in to) return `See the lesson \u201c${h(to.lesson)}\u201d.`;
  // Addresses were looked at when they were read; one that came another way is shown as text.
  if (webAddressProblem(to.web) !== null) return h(to.web);
  return `See <a href="${h(to.web)}" rel="noopener noreferrer">${h(to.title ?? to.web)}</a>.`;
};

/** A teacher's standing words about a technique, its drill and where it was taught. */
const standing = ({ words = '', drill = [], see = [] }: StandingNote): string =>
  [
    paragraphs(words),
    drill.length === 0 ? '' : `<p class="drill">${drill.map(h).join('<br>')}</p>`,
    see.length === 0 ? '' : `<p class="see">${see.map(link).join(' ')}</p>`,
  ]
    .filter((t) => t !== '')
    .join('\n');

const standingFor = ({ settings }: Lesson, technique: Technique): string => {
  const note = settings.standing[technique];
  return note === undefined ? '' : standing(note);
};

/** Techniques of the hands that are no ornaments: their standing words belong to the whole tune. */
const WHOLE_TUNE = ['stayDown', 'bowing', 'swing'] as const satisfies readonly Technique[];

/** What is said of the whole tune, the order of learning and the strings on tap. */
export const tuneSection = (lesson: Lesson, notes: TeachingNotes): string => {
  const map = phraseMapOf(lesson.versions.plain, lesson.versions.full);
  const steps = map.steps.map((s) => stepWords(map, s, lesson.settings.words));
  return [
    '<h2>The whole tune</h2>',
    remarks(notes.tune, 'More on the tune'),
    ...WHOLE_TUNE.filter((t) => notes.techniques.includes(t)).map((t) => standingFor(lesson, t)),
    folded('In which order to learn it', list(steps, true)),
    folded('String by string', list(fingerMapStrings(fingerMapOf(lesson.versions.full)))),
  ]
    .filter((t) => t !== '')
    .join('\n');
};

const barRow = (bar: BarNote): string =>
  bar.sameAs === null
    ? pair(bar.label, bar.sayings.map((s) => s.text).join(' '))
    : pair(bar.label, `As ${bar.sameAs}.`, true);

/** Each part: its music, what is said of it, and bar by bar on tap. */
export const partSections = (notes: TeachingNotes, { parts }: NotePictures): readonly string[] =>
  notes.parts.map(({ label, remarks: own }) => {
    const music = (parts.get(label) ?? []).map((svg) => `<div class="music">${svg}</div>`).join('\n');
    const bars = notes.bars.filter((b) => b.part === label).map(barRow);
    return [
      `<h2>Part ${h(label)}</h2>`,
      music,
      remarks(own, `More on part ${label}`),
      folded('Bar by bar', bars.length === 0 ? '' : `<dl>\n${bars.join('\n')}\n</dl>`),
    ].join('\n');
  });

const ornamentRow = (lesson: Lesson, one: OrnamentRemark, { ornaments }: NotePictures): string => {
  const picture = ornaments.get(one.kind);
  const said = [
    one.what === '' ? '' : `<p>${h(one.what)}</p>`,
    ...one.own.map(paragraphs),
    ...one.hands.map((s) => `<p class="hand">${h(s.text)}</p>`),
    one.slowly === '' ? '' : `<p class="slow">${h(one.slowly)}</p>`,
    standingFor(lesson, one.kind),
  ];
  return [
    `<dt>${h(capital(one.name))}</dt><dd>`,
    picture === undefined ? '' : `<div class="music">${picture}</div>`,
    ...said.filter((t) => t !== ''),
    '</dd>',
  ].join('\n');
};

/** The ornaments by kind; the rarer ones on tap. */
export const ornamentSection = (lesson: Lesson, notes: TeachingNotes, pictures: NotePictures): string => {
  if (notes.ornaments.length === 0) return '';
  const rows = (first: boolean): string => {
    const chosen = notes.ornaments.filter((o) => o.first === first);
    return chosen.length === 0
      ? ''
      : `<dl class="ornaments">\n${chosen.map((o) => ornamentRow(lesson, o, pictures)).join('\n')}\n</dl>`;
  };
  return ['<h2>The ornaments</h2>', rows(true), folded('Other ornaments', rows(false))]
    .filter((t) => t !== '')
    .join('\n');
};

/** Own words whose place is gone from the tune: shown, so that the teacher can give them another. */
export const placelessSection = ({ placeless }: TeachingNotes): string =>
  placeless.length === 0
    ? ''
    : `<h2>Notes without a place</h2>\n<p class="quiet">What these were written for is no longer in the tune.</p>\n${list(placeless)}`;
