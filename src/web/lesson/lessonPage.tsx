import { useCallback, useMemo, useRef, useState } from 'react';
import { readLessonFile, type SettingsChange, withSettings } from '../../lessonfile/index.ts';
import type { StoredLesson } from '../../protocol/index.ts';
import type { LessonDesk } from '../desk/lessonDesk.ts';
import { Ladder } from '../ladder/ladder.tsx';
import { fieldIn } from '../panels/headerFields.ts';
import { PlayBar } from '../play/playBar.tsx';
import { useCursor } from '../play/useCursor.ts';
import { PERCENT, type Play, percentOf, usePlay } from '../play/usePlay.ts';
import { wording } from '../wording/index.ts';
import { settingsWording } from '../wording/settings.ts';
import { LessonPanel } from './lessonPanel.tsx';
import { PanelBeside } from './panelBeside.tsx';
import { Elsewhere } from './safetyLine.tsx';
import { Stage } from './stage.tsx';
import { TopBar } from './topBar.tsx';
import { useBarAsked } from './useBarAsked.ts';
import { useChosenInView } from './useChosenInView.ts';
import { useDesk } from './useDesk.ts';
import { useKeys } from './useKeys.ts';
import { useRoom } from './useRoom.ts';
import { useWork, type Wish, type Work } from './useWork.ts';
import { showing } from './versionRow.tsx';
import { type PanelName, useView, type View } from './view.ts';

interface PageProps {
  readonly id: string;
  readonly stored: StoredLesson;
  readonly desk: LessonDesk;
}

/** What keys do here. */
const useLessonKeys = (
  desk: LessonDesk,
  view: View,
  change: (next: Partial<View>) => void,
  { work, play }: { readonly work: Work; readonly play: Play },
  openPanel: (name: PanelName) => void,
): void => {
  const steps = work.ladder?.steps ?? [];
  const data = work.lesson?.data;
  useKeys({
    toggle: play.toggle,
    tempo: (by) => {
      if (data === undefined) return;
      const percent = percentOf(view, data) + by;
      change({ percent: Math.min(PERCENT.most, Math.max(PERCENT.least, percent)) });
    },
    hear: (place) => {
      const step = steps[place];
      if (step !== undefined) change({ heard: [step.id] });
    },
    show: (place) => {
      const step = steps[place];
      if (step !== undefined) change(showing(view, steps, step.id));
    },
    loop: () => {
      if (view.chosen !== null) change({ looping: !view.looping });
    },
    letGo: () => change(view.panel === null ? { chosen: null, looping: false } : { panel: null }),
    undo: desk.undo,
    redo: desk.redo,
    panel: openPanel,
  });
};

/** The lesson worked out, and what is done with its bars put into lesson.json. */
const useActing = (desk: LessonDesk, wish: Wish) => {
  const [trouble, setTrouble] = useState('');
  const setSettings = useCallback(
    (next: SettingsChange, what: string): void => {
      const changed = withSettings(desk.state().texts.settings, next);
      if (changed.kind === 'lesson') desk.write('settings', changed.text, what);
    },
    [desk],
  );
  const tryOut = useRef<Play['tryOut'] | null>(null);
  const work = useWork(wish, {
    onActed: ({ act, acted }) => {
      setTrouble(acted.kind === 'problem' ? acted.message : '');
      if (acted.kind === 'change') setSettings(acted.change, wording.bar.step[act.kind]);
    },
    onEdited: ({ edit, edited }) => {
      setTrouble(edited.kind === 'problem' ? edited.message : '');
      if (edited.kind === 'text') desk.write('abc', edited.text, wording.note.step[edit]);
    },
    onMoved: (moved) => {
      setTrouble(moved.kind === 'problem' ? moved.message : moved.remarks.join(' '));
      if (moved.kind === 'moved') desk.writeBoth(moved.texts, wording.move.step);
    },
    onTried: (tried) => tryOut.current?.(tried),
  });
  return { work, trouble, setSettings, tryOut };
};

/** A lesson: the ladder, what plays it, and one panel beside it. */
export const LessonPage = ({ id, stored, desk }: PageProps) => {
  const state = useDesk(id, desk);
  const [remembered, change] = useView(id);
  const stage = useRef<HTMLElement>(null);
  const music = useRef<HTMLElement>(null);
  const { barsInLine, height } = useRoom(stage, remembered.size);
  const { work, trouble, setSettings, tryOut } = useActing(desk, {
    texts: state.texts,
    stored,
    hidden: remembered.hidden,
    barsInLine,
  });
  const { ladder } = work;
  const bars = ladder?.bars ?? [];
  useBarAsked(bars, change);
  // Bars that were chosen may have gone from the text since.
  const isThere = remembered.chosen !== null && remembered.chosen.to < bars.length;
  const view = useMemo(
    (): View => (isThere ? remembered : { ...remembered, chosen: null, looping: false }),
    [remembered, isThere],
  );
  const play = usePlay(work.lesson, view);
  tryOut.current = play.tryOut;
  useCursor(music, ladder?.music ?? null, play);
  useChosenInView(music, view);

  const read = useMemo(() => readLessonFile(state.texts.settings), [state.texts.settings]);
  const openPanel = (name: PanelName): void => change({ panel: view.panel === name ? null : name });
  useLessonKeys(desk, view, change, { work, play }, openPanel);

  return (
    <div className={view.panel === null ? 'bench' : 'bench opened'}>
      <TopBar
        title={ladder?.title ?? fieldIn(state.texts.abc, 'T')}
        summary={ladder?.summary ?? ''}
        state={state}
        desk={desk}
        opened={view.panel}
        open={openPanel}
      />
      <main className="stage" ref={stage}>
        <Elsewhere state={state} desk={desk} />
        {stored.wordsProblems.length > 0 && (
          <p className="trouble" role="alert">
            {wording.safety.wordsUnread(stored.wordsProblems.join(' '))}
          </p>
        )}
        <Stage work={work} view={view} change={change}>
          {ladder !== null && (
            <Ladder
              host={music}
              height={height === null ? null : height * view.size}
              work={ladder}
              stale={work.nothing !== null}
              chosen={view.chosen}
              choose={(chosen, dragged, note) => change({ chosen, looping: dragged, note })}
            />
          )}
        </Stage>
      </main>
      {view.panel !== null && (
        <PanelBeside name={view.panel} close={() => change({ panel: null })}>
          <LessonPanel
            {...{ id, desk, state, work, read, trouble, setSettings }}
            name={view.panel}
            chosen={view.chosen}
            note={view.note}
            choose={(chosen) => change({ chosen, looping: false })}
            point={(note) => change({ note })}
          />
        </PanelBeside>
      )}
      <PlayBar
        {...{ play, bars, view, change }}
        data={work.lesson?.data ?? null}
        setSwing={(swing) => setSettings({ swing }, settingsWording.swing.label)}
      />
    </div>
  );
};
