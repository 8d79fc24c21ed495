import { rangeRemarks, transposedSettings, transpositionTo } from '../../lesson/index.ts';
import { withSettings } from '../../lessonfile/index.ts';
import { readAbc, readKeyName, transposedAbc } from '../../notation/index.ts';
import { wording } from '../wording/index.ts';
import type { WorkedLesson } from './lessonWork.ts';
import type { KeyWish, MovedLesson, WorkOrder } from './messages.ts';

const { move: words } = wording;

const problem = (message: string): MovedLesson => ({ kind: 'problem', message });

/** The lesson in another key: both texts, all that is attached to bars moved along. */
export const movedLesson = (
  { lesson, tune }: Extract<WorkedLesson, { kind: 'lesson' }>,
  order: WorkOrder,
  { keynote, direction }: KeyWish,
): MovedLesson => {
  const tonic = readKeyName(keynote)?.tonic;
  if (tonic === undefined) return problem(words.noKey(keynote));
  const interval = transpositionTo(tune.score, tonic, direction);
  if (interval === null) return problem(tune.score.key.tonic === null ? words.noKeynote : words.isThere);
  const moved = transposedAbc(order.abc, tune.span, interval);
  if (moved.kind === 'problem') return problem(moved.message);
  const changed = withSettings(order.settings, transposedSettings(lesson.settings, interval));
  if (changed.kind === 'problem') return problem(changed.problems.map((p) => p.message).join(' '));
  const now = readAbc(moved.text).tunes[0];
  const range = now === undefined ? [] : rangeRemarks(now.score, lesson.settings.words);
  const fingers = moved.fingersLeftOut > 0 ? [words.fingersLeftOut(moved.fingersLeftOut)] : [];
  return {
    kind: 'moved',
    texts: { abc: moved.text, settings: changed.text },
    remarks: [...fingers, ...range],
  };
};
