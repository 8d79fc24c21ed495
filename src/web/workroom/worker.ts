// The workroom: a thread in which the lesson is worked out and engraved, so that the page never waits for it.
import { loadEngraver } from '../../engrave/index.ts';
import { type Lesson, lessonOf, practiceDataOf, practiceKeysOf } from '../../lesson/index.ts';
import { withSettings } from '../../lessonfile/index.ts';
import { editedAbc } from '../../notation/index.ts';
import { barActed } from './barActs.ts';
import type { BarAct } from './barMessages.ts';
import { barReport } from './barReport.ts';
import {
  ladderReport,
  lessonReport,
  lineMemory,
  type WorkedLesson,
  wordsReport,
  workedLesson,
} from './lessonWork.ts';
import type { ToWorkroom, WorkOrder, WorkReport } from './messages.ts';
import { movedLesson } from './movedLesson.ts';
import { withChordsWritten, withFirstChord } from './writeChords.ts';

const scope = globalThis as unknown as {
  onmessage: ((event: MessageEvent<ToWorkroom>) => void) | null;
  postMessage: (message: WorkReport) => void;
};

/** What playing needs is worked out when nobody has typed for so long, milliseconds. Ours. */
const QUIET = 180;

const memory = { travelling: lineMemory(), widths: new Map<string, number>() };
/** The lesson as last worked out, and the text of lesson.json that it was made with. */
let current:
  | (Omit<Extract<WorkedLesson, { kind: 'lesson' }>, 'kind'> & { readonly order: WorkOrder })
  | null = null;
let lookedAt: number | null = null;
let waiting: WorkOrder | null = null;
let working = false;
let later: ReturnType<typeof setTimeout> | undefined;

const tellOfBar = async (): Promise<void> => {
  if (lookedAt === null || current === null) return;
  const bar = barReport(current.lesson, lookedAt, await loadEngraver());
  scope.postMessage({ kind: 'bar', bar });
};

/** What can wait, the most wanted first; a new order calls off what has not begun. */
const tellMore = (job: number, lesson: Lesson): void => {
  scope.postMessage(lessonReport(job, lesson));
  later = setTimeout(() => {
    void tellOfBar();
    later = setTimeout(() => scope.postMessage(wordsReport(lesson)));
  });
};

const work = async (order: WorkOrder): Promise<void> => {
  const began = performance.now();
  const worked = workedLesson(order);
  if (worked.kind === 'nothing') {
    scope.postMessage({ ...worked, job: order.job });
    return;
  }
  current = { lesson: worked.lesson, tune: worked.tune, book: worked.book, order };
  const report = await ladderReport(order, worked, memory);
  scope.postMessage({ ...report, took: performance.now() - began });
  later = setTimeout(() => tellMore(order.job, worked.lesson), QUIET);
};

/** Only the newest order counts: what was asked before it is out of date. */
const next = async (): Promise<void> => {
  working = true;
  while (waiting !== null) {
    const order = waiting;
    waiting = null;
    try {
      await work(order);
    } catch (error) {
      const message = error instanceof Error ? error.message : String(error);
      scope.postMessage({ kind: 'nothing', job: order.job, problems: [], message });
    }
    // Lets orders in that have come meanwhile.
    await new Promise((resolve) => setTimeout(resolve));
  }
  working = false;
};

/** The version in which an act is heard. */
const heardIn = (act: BarAct, lesson: Lesson): string => {
  if (act.kind === 'choose' || act.kind === 'type' || act.kind === 'addWay') return act.version;
  const way = act.kind === 'changeWay' ? lesson.ways[act.way]?.way.version : undefined;
  return way ?? lesson.ladder.at(-1)?.id ?? '';
};

/** The lesson as an act would make it. */
const tried = (act: BarAct, at: number): WorkReport | null => {
  if (current === null) return null;
  const { lesson, order } = current;
  const acted = barActed(lesson, act);
  if (acted.kind === 'problem') return { kind: 'acted', act, acted };
  const changed = withSettings(order.settings, acted.change);
  if (changed.kind === 'problem') return null;
  const next = lessonOf(lesson.written, {
    ...lesson.settings,
    ...changed.settings,
    date: lesson.settings.date,
  });
  const data = practiceDataOf(next);
  return { kind: 'tried', at, data, keys: practiceKeysOf(data), version: heardIn(act, next) };
};

scope.onmessage = ({ data }) => {
  switch (data.kind) {
    case 'work':
      waiting = data;
      clearTimeout(later);
      if (!working) void next();
      break;
    case 'look':
      lookedAt = data.at;
      void tellOfBar();
      break;
    case 'act':
      if (current !== null)
        scope.postMessage({ kind: 'acted', act: data.act, acted: barActed(current.lesson, data.act) });
      break;
    case 'edit':
      if (current !== null) {
        const { order, tune, lesson } = current;
        const changed = data.edit.kind === 'chord' ? withFirstChord(order.abc, lesson, data.edit) : null;
        const edited = changed ?? editedAbc(order.abc, tune, data.edit);
        scope.postMessage({ kind: 'edited', edit: data.edit.kind, edited });
      }
      break;
    case 'move':
      if (current !== null)
        scope.postMessage({
          kind: 'movedTo',
          moved: movedLesson({ kind: 'lesson', ...current }, current.order, data),
        });
      break;
    case 'writeChords':
      if (current !== null)
        scope.postMessage({
          kind: 'edited',
          edit: 'chord',
          edited: withChordsWritten(current.order.abc, current.lesson),
        });
      break;
    case 'try': {
      const report = tried(data.act, data.at);
      if (report !== null) scope.postMessage(report);
      break;
    }
    default:
      data satisfies never;
  }
};
