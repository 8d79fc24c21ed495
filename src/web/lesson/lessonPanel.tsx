import type { ReadLesson, SettingsChange } from '../../lessonfile/index.ts';
import type { Audience } from '../../protocol/index.ts';
import type { DeskState } from '../desk/deskState.ts';
import type { LessonDesk } from '../desk/lessonDesk.ts';
import { BarPanel } from '../panels/barPanel.tsx';
import { EarlierPanel } from '../panels/earlierPanel.tsx';
import { KeysPanel } from '../panels/keysPanel.tsx';
import { PackPanel } from '../panels/packPanel.tsx';
import { SettingsPanel } from '../panels/settingsPanel.tsx';
import { TextPanel } from '../panels/textPanel.tsx';
import { WordsPanel } from '../panels/wordsPanel.tsx';
import { wording } from '../wording/index.ts';
import type { Work } from './useWork.ts';
import type { BarRange, PanelName } from './view.ts';

interface PanelProps {
  readonly name: PanelName;
  readonly id: string;
  readonly desk: LessonDesk;
  readonly state: DeskState;
  readonly work: Work;
  readonly read: ReadLesson;
  readonly chosen: BarRange | null;
  readonly note: string | null;
  readonly choose: (range: BarRange) => void;
  readonly point: (note: string | null) => void;
  /** Why the last thing done with a bar could not be. */
  readonly trouble: string;
  readonly setSettings: (next: SettingsChange, what: string) => void;
}

/** The settings with a part of the pack for another audience. */
const audienceChange = (read: ReadLesson, part: string, audience: Audience): SettingsChange =>
  read.kind === 'problem' ? {} : { audiences: { ...read.settings.audiences, [part]: audience } };

/** What is in the panel that is open. */
export const LessonPanel = ({
  name,
  id,
  desk,
  state,
  work,
  read,
  chosen,
  note,
  choose,
  point,
  trouble,
  setSettings,
}: PanelProps) => {
  const data = work.lesson?.data ?? null;
  const bars = work.ladder?.bars ?? [];
  const unread = (
    <p className="trouble">{read.kind === 'problem' ? read.problems.map((p) => p.message).join(' ') : ''}</p>
  );
  switch (name) {
    case 'bar':
      return <BarPanel {...{ bars, chosen, trouble, note, point, choose }} bar={work.bar} room={work.room} />;
    case 'text':
      return (
        <TextPanel
          abc={state.texts.abc}
          problems={(work.nothing ?? work.ladder)?.problems ?? []}
          {...{ bars, chosen, choose }}
          write={(abc) => desk.write('abc', abc, wording.text.step)}
          undo={desk.undo}
          redo={desk.redo}
        />
      );
    case 'settings':
      return read.kind === 'problem' ? (
        unread
      ) : (
        <SettingsPanel
          settings={read.settings}
          data={data}
          change={setSettings}
          move={work.room.move}
          said={trouble}
        />
      );
    case 'words':
      return read.kind === 'problem' ? (
        unread
      ) : (
        <WordsPanel
          id={id}
          abc={state.texts.abc}
          settings={read.settings}
          data={data}
          description={work.words?.description ?? ''}
          runningOrder={work.words?.runningOrder ?? ''}
          change={setSettings}
          write={(abc, what) => desk.write('abc', abc, what)}
        />
      );
    case 'pack':
      return (
        <PackPanel
          id={id}
          saved={state.safety === 'saved'}
          setAudience={(part, audience) =>
            setSettings(audienceChange(read, part.id, audience), wording.pack.forWhom)
          }
        />
      );
    case 'earlier':
      return <EarlierPanel id={id} bringBack={(texts) => desk.writeBoth(texts, wording.earlier.step)} />;
    case 'keys':
      return <KeysPanel />;
    default:
      return name satisfies never;
  }
};
