import type { LessonSettings, PracticeData } from '../../lesson/index.ts';
import type { SettingsChange } from '../../lessonfile/index.ts';
import { Link } from '../link.tsx';
import { cameraAddress } from '../route.ts';
import { wording } from '../wording/index.ts';
import { Words } from './field.tsx';
import { fieldIn, withFieldIn } from './headerFields.ts';

interface WordsProps {
  readonly id: string;
  readonly abc: string;
  readonly settings: Omit<LessonSettings, 'date'>;
  readonly data: PracticeData | null;
  readonly description: string;
  readonly runningOrder: string;
  readonly change: (next: SettingsChange, what: string) => void;
  readonly write: (abc: string, what: string) => void;
}

const { lessonText } = wording;

/** Fields of the tune's header that belong to what is said of it. */
const HEADER = [
  ['T', lessonText.title],
  ['C', lessonText.composer],
  ['S', lessonText.source],
  ['O', lessonText.origin],
] as const;

/** What is said of the tune: its story, where it is from, the description, the running order of the video. */
export const WordsPanel = ({
  id,
  abc,
  settings,
  data,
  description,
  runningOrder,
  change,
  write,
}: WordsProps) => (
  <div className="lesson-text">
    {HEADER.map(([code, label]) => (
      <Words
        key={code}
        label={label}
        value={fieldIn(abc, code)}
        set={(value) => write(withFieldIn(abc, code, value), label)}
      />
    ))}
    <Words
      label={lessonText.story}
      about={lessonText.storyAbout}
      lines={8}
      value={settings.story}
      set={(story) => change({ story }, lessonText.story)}
    />
    {data !== null && <p className="quiet">{data.rights}</p>}
    {runningOrder !== '' && (
      <>
        <h3>{lessonText.runningOrder}</h3>
        <p className="quiet">{lessonText.runningOrderAbout}</p>
        <p>
          <Link to={cameraAddress(id)}>{wording.camera.open}</Link>
        </p>
        <pre className="made">{runningOrder}</pre>
      </>
    )}
    <h3>{lessonText.description}</h3>
    <p className="quiet">{lessonText.descriptionAbout}</p>
    <pre className="made">{description}</pre>
    <button type="button" className="word" onClick={() => void navigator.clipboard.writeText(description)}>
      {lessonText.copy}
    </button>
  </div>
);
