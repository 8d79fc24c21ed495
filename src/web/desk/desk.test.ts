import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { LessonTexts, SaveAnswer, StoredLesson } from '../../protocol/index.ts';
import type { DeskWorld, Unsaved } from './deskState.ts';
import { lessonDesk } from './lessonDesk.ts';
import { mergedTexts } from './merge.ts';
import { backOf, patchBetween, patched } from './patch.ts';

const texts = (abc: string, settings = '{}'): LessonTexts => ({ abc, settings });
const stored = (abc: string, revision: string): StoredLesson => ({
  ...texts(abc),
  id: 'reel',
  revision,
  words: '',
  wordsProblems: [],
  today: '2026-11-26',
  problems: [],
});

class AwayError extends Error {}

/** A server that holds one lesson, a clock that is wound by hand, a browser that keeps what it is given. */
const worldOf = (first: StoredLesson) => {
  let now = 0;
  let lesson = first;
  let isAway = false;
  let kept: Unsaved | null = null;
  let planned: { readonly act: () => void; readonly at: number }[] = [];
  const world: DeskWorld = {
    save: async ({ base, ...sent }): Promise<SaveAnswer> => {
      if (isAway) throw new AwayError('away');
      if (base !== lesson.revision) return { kind: 'changed', now: lesson, base: null };
      lesson = { ...lesson, ...sent, revision: `${lesson.revision}+` };
      return { kind: 'saved', revision: lesson.revision };
    },
    load: async () => lesson,
    keep: (unsaved) => {
      kept = unsaved;
    },
    now: () => now,
    later: (act, milliseconds) => {
      const entry = { act, at: now + milliseconds };
      planned = [...planned, entry];
      return () => {
        planned = planned.filter((p) => p !== entry);
      };
    },
    isAway: (error) => error instanceof AwayError,
    words: { fromElsewhere: 'elsewhere', mergedWithElsewhere: 'merged', broughtBack: 'back' },
  };
  /** Lets time go by, and what is planned happen. */
  const pass = async (milliseconds: number): Promise<void> => {
    now += milliseconds;
    const due = planned.filter((p) => p.at <= now);
    planned = planned.filter((p) => p.at > now);
    for (const { act } of due) act();
    for (let i = 0; i < 20; i += 1) await Promise.resolve();
  };
  return {
    world,
    pass,
    lesson: () => lesson,
    kept: () => kept,
    setAway: (away: boolean) => {
      isAway = away;
    },
    changeElsewhere: (abc: string) => {
      lesson = { ...lesson, abc, revision: `${lesson.revision}'` };
    },
  };
};

describe('a patch', () => {
  test('makes the other text, and taken back the first one (law)', () => {
    fc.assert(
      fc.property(fc.string(), fc.string(), (before, after) => {
        const patch = patchBetween('abc', before, after);
        if (patch === null) return before === after;
        const there = patched(texts(before), patch);
        return there.abc === after && patched(there, backOf(patch)).abc === before;
      }),
      { seed: 26, numRuns: 500 },
    );
  });
});

describe('two sets of changes', () => {
  test('in different lines are put together', () => {
    const base = texts('T:One\nGABd\nedBA');
    expect(mergedTexts(texts('T:Two\nGABd\nedBA'), base, texts('T:One\nGABd\nedBG'))).toEqual(
      texts('T:Two\nGABd\nedBG'),
    );
  });
  test('in one line are for somebody to decide', () => {
    const base = texts('T:One\nGABd');
    expect(mergedTexts(texts('T:Two\nGABd'), base, texts('T:Three\nGABd'))).toBeNull();
  });
});

describe('the desk', () => {
  test('takes every step back and makes it again', () => {
    const { world } = worldOf(stored('GABd', '1'));
    const desk = lessonDesk(world, stored('GABd', '1'));
    desk.write('abc', 'GABe', 'typing');
    desk.write('settings', '{"times":3}', 'times');
    desk.undo();
    expect(desk.state().texts).toEqual(texts('GABe'));
    desk.undo();
    expect(desk.state().texts).toEqual(texts('GABd'));
    desk.undo();
    desk.redo();
    desk.redo();
    expect(desk.state().texts).toEqual(texts('GABe', '{"times":3}'));
  });

  test('takes typing in one go back at once', async () => {
    const { world, pass } = worldOf(stored('G', '1'));
    const desk = lessonDesk(world, stored('G', '1'));
    for (const text of ['GA', 'GAB', 'GABd']) {
      desk.write('abc', text, 'typing');
      await pass(100);
    }
    await pass(2000);
    desk.write('abc', 'GABde', 'typing');
    desk.undo();
    expect(desk.state().texts.abc).toBe('GABd');
    desk.undo();
    expect(desk.state().texts.abc).toBe('G');
  });

  test('saves after a pause and says so only then', async () => {
    const { world, pass, lesson, kept } = worldOf(stored('GABd', '1'));
    const desk = lessonDesk(world, stored('GABd', '1'));
    desk.write('abc', 'GABe', 'typing');
    expect(desk.state().safety).toBe('saving');
    expect(kept()?.texts.abc).toBe('GABe');
    await pass(400);
    expect(lesson().abc).toBe('GABe');
    expect(desk.state().safety).toBe('saved');
    expect(kept()).toBeNull();
  });

  test('keeps work while nobody answers, and sends it when somebody does', async () => {
    const { world, pass, lesson, kept, setAway } = worldOf(stored('GABd', '1'));
    const desk = lessonDesk(world, stored('GABd', '1'));
    setAway(true);
    desk.write('abc', 'GABe', 'typing');
    await pass(400);
    expect(desk.state().safety).toBe('waiting');
    expect(kept()?.texts.abc).toBe('GABe');
    setAway(false);
    desk.wakeUp();
    await pass(1);
    expect(lesson().abc).toBe('GABe');
    expect(desk.state().safety).toBe('saved');
  });

  test('brings back what an earlier sitting could not save, also beside newer changes', async () => {
    const { world, pass, lesson } = worldOf(stored('T:One\nGABd\nedBA', '2'));
    const unsaved: Unsaved = {
      revision: '1',
      base: texts('T:Old\nGABd\nedBA'),
      texts: texts('T:Old\nGABd\nedBG'),
    };
    const desk = lessonDesk(world, stored('T:One\nGABd\nedBA', '2'), unsaved);
    await pass(400);
    expect(lesson().abc).toBe('T:One\nGABd\nedBG');
    expect(desk.state().safety).toBe('saved');
  });

  test('puts changes from another window together with its own', async () => {
    const { world, pass, lesson, changeElsewhere } = worldOf(stored('T:One\nGABd\nedBA', '1'));
    const desk = lessonDesk(world, stored('T:One\nGABd\nedBA', '1'));
    changeElsewhere('T:One\nGABd\nedBG');
    desk.write('abc', 'T:Two\nGABd\nedBA', 'typing');
    await pass(400);
    await pass(400);
    expect(lesson().abc).toBe('T:Two\nGABd\nedBG');
    expect(desk.state().notice).toBe('merged');
  });

  test.each(['mine', 'theirs'] as const)('lets a clash be settled: %s', async (whose) => {
    const { world, pass, lesson, changeElsewhere } = worldOf(stored('GABd', '1'));
    const desk = lessonDesk(world, stored('GABd', '1'));
    changeElsewhere('GABg');
    desk.write('abc', 'GABe', 'typing');
    await pass(400);
    expect(desk.state().clash?.theirs.abc).toBe('GABg');
    expect(lesson().abc).toBe('GABg');
    desk.settle(whose);
    await pass(400);
    await pass(400);
    expect(lesson().abc).toBe(whose === 'mine' ? 'GABe' : 'GABg');
    desk.undo();
    expect(desk.state().texts.abc).toBe(whose === 'mine' ? 'GABd' : 'GABe');
  });

  test('follows a change made outside while nothing is under way here', async () => {
    const { world, pass, changeElsewhere } = worldOf(stored('GABd', '1'));
    const desk = lessonDesk(world, stored('GABd', '1'));
    changeElsewhere('GABg');
    desk.hearOf("1'");
    await pass(1);
    expect(desk.state()).toMatchObject({ texts: texts('GABg'), safety: 'saved', notice: 'elsewhere' });
  });
});
