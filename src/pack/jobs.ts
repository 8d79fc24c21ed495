import {
  clockTime,
  type Lesson,
  type Paper,
  slugOf,
  type TrackChoice,
  type TrackPlan,
  togetherName,
  trackLength,
  trackPlans,
  type VersionId,
} from '../lesson/index.ts';
import { titleOf } from '../score/index.ts';
import type { FolderJob } from './workerPool.ts';

/** Versions on one sheet. */
export type SomeVersions = readonly [VersionId, ...VersionId[]];

/** One piece of a pack, see `PackPart` for its id. */
export type PackJob = FolderJob &
  (
    | {
        readonly kind: 'sheet';
        readonly versions: SomeVersions;
        readonly paper: Paper;
      }
    | { readonly kind: 'page'; readonly page: PageKind; readonly paper: Paper }
    | { readonly kind: 'track'; readonly plan: TrackPlan; readonly outOf: number }
    | { readonly kind: 'text'; readonly text: TextKind }
  );

/** Pages that are drawn beside the sheets of music, in the order in which they follow these. */
export const DRAWN_PAGES = {
  chordGrid: 'Chord grid',
  fingerMap: 'Finger map',
  phraseMap: 'Phrase map',
} as const;
/** A page drawn beside the sheets. */
export type PageKind = keyof typeof DRAWN_PAGES;

/** The small files of a pack. */
export const TEXT_FILES = {
  abc: { path: 'tune.abc', what: 'the tune as text (ABC)' },
  musicxml: { path: 'tune.musicxml', what: 'the versions for notation programs (MusicXML)' },
  midi: { path: 'tune.mid', what: 'the fullest version as MIDI' },
  practice: { path: 'practice.html', what: 'practice page: plays and shows every version, for the learner' },
  notes: { path: 'notes.html', what: 'notes on the tune, bar by bar' },
  description: { path: 'description.txt', what: 'description for the web page' },
  runningOrder: { path: 'running-order.txt', what: 'running order of the video, for the teacher' },
  chapters: { path: 'chapters.vtt', what: 'chapters of the video as planned (WebVTT)' },
} as const;
/** A small file. */
export type TextKind = keyof typeof TEXT_FILES;

/** Expected seconds of work, for order and time left. Ours: measured on two cores, rounded. */
const EFFORT = { sheet: 0.5, together: 0.8, page: 0.2, text: 0.1, practice: 3.5, trackSecond: 0.025 };

/** A sheet for each version, and one for all of them. */
const sheetsOf = ({
  ladder,
}: Lesson): readonly { readonly id: string; readonly versions: SomeVersions; readonly name: string }[] => {
  const [simplest, ...others] = ladder;
  return [
    ...ladder.map(({ id, name }) => ({ id, versions: [id] as const, name })),
    {
      id: 'together',
      versions: [simplest.id, ...others.map((v) => v.id)],
      name: togetherName(ladder.length),
    },
  ];
};

const twoDigits = (n: number): string => String(n).padStart(2, '0');

const sheetJobs = (lesson: Lesson, slug: string): readonly PackJob[] => {
  const sheets = sheetsOf(lesson);
  return lesson.settings.papers.flatMap((paper) => [
    ...sheets.map(
      ({ id, versions, name }, i): PackJob => ({
        kind: 'sheet',
        id: `sheet/${id}/${paper.toLowerCase()}`,
        effort: versions.length > 1 ? EFFORT.together : EFFORT.sheet,
        family: 'drawing',
        versions,
        paper,
        what: `sheet: ${name}, ${paper}`,
        paths: [`sheets/${twoDigits(i + 1)}-${slug}-${slugOf(name)}-${paper.toLowerCase()}.pdf`],
      }),
    ),
    ...(Object.keys(DRAWN_PAGES) as PageKind[]).map((page, i): PackJob => {
      const name = DRAWN_PAGES[page];
      const number = twoDigits(sheets.length + i + 1);
      return {
        kind: 'page',
        id: `page/${page}/${paper.toLowerCase()}`,
        effort: EFFORT.page,
        family: 'drawing',
        page,
        paper,
        what: `${name.toLowerCase()}, ${paper}`,
        paths: [`sheets/${number}-${slug}-${slugOf(name)}-${paper.toLowerCase()}.pdf`],
      };
    }),
  ]);
};

const trackJobs = (lesson: Lesson, slug: string, choice: TrackChoice): readonly PackJob[] => {
  const plans = trackPlans(lesson, choice);
  return plans.map((plan, i): PackJob => {
    const length = trackLength(lesson, plan);
    const before = plans.slice(0, i).filter(({ slug: other }) => other === plan.slug).length;
    return {
      kind: 'track',
      id: `track/${plan.slug}${before === 0 ? '' : `-${before + 1}`}`,
      effort: EFFORT.trackSecond * length,
      family: 'sound',
      plan,
      outOf: plans.length,
      what: `track: ${plan.title} (${plan.own === null ? clockTime(length) : 'recorded'})`,
      paths: lesson.settings.formats.map(
        (format) => `tracks/${twoDigits(plan.number)}-${slug}-${plan.slug}.${format}`,
      ),
    };
  });
};

/** Seconds of a job's track; 0 of any other. */
export const trackSeconds = (job: PackJob): number =>
  job.kind === 'track' ? job.effort / EFFORT.trackSecond : 0;

/** Everything that a lesson's pack is made of, in the order in which the manifest lists it. */
export const packJobs = (lesson: Lesson, choice: TrackChoice): readonly PackJob[] => {
  const slug = slugOf(titleOf(lesson.written));
  const texts = (Object.keys(TEXT_FILES) as TextKind[]).map(
    (text): PackJob => ({
      kind: 'text',
      id: `text/${text}`,
      effort: text === 'practice' ? EFFORT.practice : EFFORT.text,
      family: 'drawing',
      text,
      what: TEXT_FILES[text].what,
      paths: [TEXT_FILES[text].path],
    }),
  );
  return [...sheetJobs(lesson, slug), ...trackJobs(lesson, slug, choice), ...texts];
};
