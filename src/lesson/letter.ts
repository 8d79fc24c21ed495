import { audienceOf, GROUPS, type Group, isFor } from './audiences.ts';
import {
  CARE_LINE,
  creditOf,
  RIGHTS_LINE,
  sourceOfSetting,
  summaryOf,
  tempoWords,
  titlesOf,
} from './credits.ts';
import { togetherName } from './ladder.ts';
import { type Lesson, tempoOf } from './lesson.ts';
import { phraseMapOf } from './maps/phraseMap.ts';
import { stepWords } from './maps/phraseMapWords.ts';
import { inSentence, joined } from './words.ts';

/** What a letter needs to know of a part of the pack. */
export interface ParcelPart {
  /** "sheet/bones/a4", see the pack's `partsOf`. */
  readonly id: string;
  /** "track: The bones, to learn, bare (1:36)". */
  readonly what: string;
}

const secondWord = (id: string): string => id.split('/')[1] ?? '';

const ofKind = (parts: readonly ParcelPart[], kind: string): readonly ParcelPart[] =>
  parts.filter(({ id }) => id.startsWith(`${kind}/`));

const has = (parts: readonly ParcelPart[], id: string): boolean => parts.some((part) => part.id === id);

const unique = (items: readonly string[]): readonly string[] => [...new Set(items)];

/** "The bones, A4" without its paper. */
const withoutPaper = (what: string): string => what.slice(0, what.lastIndexOf(', '));

const sheetName = ({ ladder }: Lesson, { id, what }: ParcelPart): string => {
  const word = secondWord(id);
  if (word === 'together') return togetherName(ladder.length);
  return ladder.find((version) => version.id === word)?.name ?? withoutPaper(what);
};

const papersOf = (parts: readonly ParcelPart[]): string =>
  joined(unique(parts.map(({ what }) => what.slice(what.lastIndexOf(', ') + 2))));

/** Small files that a learner can use, in the order of telling. */
const FOR_PROGRAMS = [
  ['text/abc', 'ABC'],
  ['text/musicxml', 'MusicXML'],
  ['text/midi', 'MIDI'],
] as const;

/** A letter's list: what is in a parcel, a line each. */
const listOf = (lesson: Lesson, parts: readonly ParcelPart[]): readonly string[] => {
  const sheets = ofKind(parts, 'sheet');
  const pages = ofKind(parts, 'page');
  const tracks = ofKind(parts, 'track');
  const names = unique(sheets.map((part) => `\u201c${sheetName(lesson, part)}\u201d`));
  const programs = FOR_PROGRAMS.filter(([id]) => has(parts, id)).map(([, name]) => name);
  const told = ['text/practice', 'text/notes', 'text/description', ...FOR_PROGRAMS.map(([id]) => id)];
  return [
    ...(has(parts, 'text/practice')
      ? [
          'the practice page: save practice.html and open it in a browser; it shows and plays every version at any tempo',
        ]
      : []),
    ...(names.length === 0
      ? []
      : [`the ${names.length === 1 ? 'sheet' : 'sheets'} ${joined(names)}, on ${papersOf(sheets)}`]),
    ...(tracks.length === 0
      ? []
      : [tracks.length === 1 ? 'a play-along track' : `${tracks.length} play-along tracks`]),
    ...(has(parts, 'text/notes') ? ['notes on the tune, bar by bar (notes.html)'] : []),
    ...(pages.length === 0
      ? []
      : [`drawn pages: ${joined(unique(pages.map(({ what }) => withoutPaper(what))))}`]),
    ...(programs.length === 0 ? [] : [`the tune for music programs: ${joined(programs)}`]),
    ...(has(parts, 'text/description') ? ['a list of what belongs to the lesson (description.txt)'] : []),
    ...ofKind(parts, 'text')
      .filter(({ id }) => !told.includes(id))
      .map(({ what }) => what),
  ];
};

/** What to take up first, from what is in the parcel. */
const beginning = (lesson: Lesson, parts: readonly ParcelPart[]): string => {
  const [simplest] = lesson.ladder;
  const tempo = tempoWords(lesson, tempoOf(lesson, 'learn', simplest.kind));
  const [track] = ofKind(parts, 'track');
  const [sheet] = ofKind(parts, 'sheet');
  if (has(parts, 'text/practice'))
    return `Open the practice page and take \u201c${simplest.name}\u201d first, at ${tempo}.`;
  if (track !== undefined) return `Begin with this ${track.what}.`;
  if (sheet === undefined) return '';
  const { kind = null } = lesson.ladder.find(({ id }) => id === secondWord(sheet.id)) ?? {};
  const slow = tempoWords(lesson, tempoOf(lesson, 'learn', kind));
  return `Take the sheet \u201c${sheetName(lesson, sheet)}\u201d and begin slowly, at ${slow}.`;
};

const howToBegin = (lesson: Lesson, parts: readonly ParcelPart[]): readonly string[] => {
  const first = beginning(lesson, parts);
  if (first === '') return [];
  const { plain, full } = lesson.versions;
  const map = phraseMapOf(plain, full);
  const [step] = map.steps;
  const bars = step === undefined ? '' : ` First: ${inSentence(stepWords(map, step, lesson.settings.words))}`;
  return [`How to begin: ${inSentence(first)}${bars}`, CARE_LINE];
};

/** What a later group gets besides. */
const more = (lesson: Lesson, group: Group, parts: readonly ParcelPart[]): readonly string[] =>
  GROUPS.slice(GROUPS.indexOf(group) + 1).flatMap((later) => {
    const own = parts.filter(({ id }) => audienceOf(lesson.settings.audiences, id) === later);
    const list = listOf(lesson, own);
    return list.length === 0
      ? []
      : [
          [
            `For ${later} there ${list.length === 1 ? 'is' : 'are'} also:`,
            ...list.map((line) => `- ${line}`),
          ].join('\n'),
        ];
  });

/**
 * The draft of a letter that goes with a group's parcel, for the teacher to finish: what is in it, which tune, how to
 * begin, what others get, credit and rights.
 *
 * Everything in it is a fact of the lesson or the teacher's own text.
 * @param parts - of the pack, those that are there; whom each is for follows from the lesson's settings
 * @returns plain text, lines not broken, a newline at the end
 */
export const letterOf = (lesson: Lesson, group: Group, parts: readonly ParcelPart[]): string => {
  const [title = '', ...others] = titlesOf(lesson);
  const { audiences, story, teacher } = lesson.settings;
  const own = parts.filter(({ id }) => isFor(group, audienceOf(audiences, id)));
  const source = sourceOfSetting(lesson);
  const list = listOf(lesson, own);
  const also = others.length === 0 ? '' : ` (also called ${joined(others)})`;
  const paragraphs = [
    `Subject: ${title}`,
    'Hello,',
    `here is ${title}${also}: ${inSentence(summaryOf(lesson))}`,
    ...(story.trim() === '' ? [] : [story.trim()]),
    ...(list.length === 0 ? [] : [['In the parcel:', ...list.map((line) => `- ${line}`)].join('\n')]),
    ...howToBegin(lesson, own),
    ...more(lesson, group, parts),
    [`Tune: ${creditOf(lesson)}`, ...(source === '' ? [] : [`Setting: ${source}`]), RIGHTS_LINE].join('\n'),
    ...(teacher === '' ? [] : [teacher]),
  ];
  return `${paragraphs.join('\n\n')}\n`;
};
