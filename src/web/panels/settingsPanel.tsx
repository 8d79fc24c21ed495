import { useState } from 'react';
import type { LessonSettings, PracticeData } from '../../lesson/index.ts';
import type { SettingsChange } from '../../lessonfile/index.ts';
import { PLAYERS, type Player } from '../../perform/index.ts';
import { wording } from '../wording/index.ts';
import { settingsWording as words } from '../wording/settings.ts';
import type { KeyWish } from '../workroom/messages.ts';
import { Choice, Count, Group, Tick, Words } from './field.tsx';

interface SettingsProps {
  readonly settings: Omit<LessonSettings, 'date'>;
  readonly data: PracticeData | null;
  /** `what` names the step for undo. */
  readonly change: (next: SettingsChange, what: string) => void;
  readonly move: (wish: KeyWish) => void;
  /** What came of moving it; empty: nothing to say. */
  readonly said: string;
}

/** Keynotes that fiddlers play from. Common practice. */
const KEYNOTES = ['G', 'D', 'A', 'E', 'B', 'F#', 'C', 'F', 'Bb', 'Eb'] as const;

type PartProps = Pick<SettingsProps, 'settings' | 'data' | 'change'>;

type Keynote = (typeof KEYNOTES)[number];

/** The keynote that the lesson has now, where it is one of those. */
const keynoteOf = (data: SettingsProps['data']): Keynote | undefined => {
  const { step, alter = 0 } = data?.versions.at(-1)?.score.key.tonic ?? {};
  return KEYNOTES.find((note) => note === `${step}${alter > 0 ? '#' : alter < 0 ? 'b' : ''}`);
};

/** The lesson in another key. */
const AnotherKey = ({ data, move, said }: Pick<SettingsProps, 'data' | 'move' | 'said'>) => {
  const [chosen, setKeynote] = useState<Keynote | null>(null);
  const keynote = chosen ?? keynoteOf(data) ?? 'G';
  const [direction, setDirection] = useState<KeyWish['direction']>('near');
  return (
    <Group heading={wording.move.heading}>
      <p className="quiet">{wording.move.about}</p>
      <Choice
        label={wording.move.keynote}
        value={keynote}
        of={KEYNOTES.map((note) => [note, note.replace('b', '♭').replace('#', '♯')] as const)}
        set={setKeynote}
      />
      <Choice
        label={wording.move.direction}
        value={direction}
        of={wording.move.directions}
        set={setDirection}
      />
      <p>
        <button type="button" className="word" onClick={() => move({ keynote, direction })}>
          {wording.move.act}
        </button>{' '}
        <span role="status">{said}</span>
      </p>
    </Group>
  );
};

const VersionSettings = ({ settings, change }: PartProps) => (
  <Group heading={words.versions}>
    <Choice
      {...words.density}
      value={settings.density}
      set={(density) => change({ density }, words.density.label)}
    />
    <Choice
      {...words.ornaments}
      value={settings.plain.ornaments ?? 'none'}
      set={(ornaments) => change({ plain: { ...settings.plain, ornaments } }, words.ornaments.label)}
    />
    <Choice
      {...words.longRoll}
      value={settings.plain.longRoll ?? 'held'}
      set={(longRoll) => change({ plain: { ...settings.plain, longRoll } }, words.longRoll.label)}
    />
    <Choice {...words.slurs} value={settings.slurs} set={(slurs) => change({ slurs }, words.slurs.label)} />
  </Group>
);

const HandSettings = ({ settings, change }: PartProps) => (
  <Group heading={words.hands}>
    <Choice {...words.marks} value={settings.marks} set={(marks) => change({ marks }, words.marks.label)} />
    <Choice
      {...words.stayDowns}
      value={settings.stayDowns}
      set={(stayDowns) => change({ stayDowns }, words.stayDowns.label)}
    />
    <Choice
      {...words.position}
      value={settings.position}
      set={(position) => change({ position }, words.position.label)}
    />
    <Choice
      {...words.tuning}
      value={settings.tuning}
      set={(tuning) => change({ tuning }, words.tuning.label)}
    />
  </Group>
);

const TEMPI = ['learnBones', 'learn', 'steady', 'upToSpeed'] as const;

const TempoSettings = ({ settings, data, change }: PartProps) => {
  const usual =
    data === null ? null : { ...data.tempos, learnBones: data.versions[0]?.learn ?? data.tempos.learn };
  const set = (step: (typeof TEMPI)[number], value: number | null): void => {
    const { [step]: _old, ...others } = settings.tempos;
    change({ tempos: value === null ? others : { ...others, [step]: value } }, words.tempo(step));
  };
  return (
    <Group heading={words.tempi}>
      <p className="quiet">{words.tempoAbout(data?.beat ?? '')}</p>
      {TEMPI.map((step) => (
        <Count
          key={step}
          label={words.tempo(step)}
          value={settings.tempos[step] ?? null}
          usual={usual?.[step] ?? 100}
          least={10}
          most={400}
          set={(value) => set(step, value)}
        />
      ))}
      <Count
        {...words.swing}
        value={settings.swing}
        usual={1}
        least={1}
        most={2.5}
        set={(swing) => change({ swing }, words.swing.label)}
      />
      <Count
        {...words.times}
        value={settings.times}
        usual={2}
        least={1}
        most={9}
        set={(times) => change({ times: Math.round(times ?? 2) }, words.times.label)}
      />
    </Group>
  );
};

const BackingSettings = ({ settings, change }: PartProps) => {
  const { players, pattern } = settings.band;
  const toggle = (player: Player): void => {
    const next = PLAYERS.filter((p) => (p === player) !== players.includes(p));
    if (next.length > 0) change({ band: { ...settings.band, players: next } }, words.backing);
  };
  return (
    <Group heading={words.backing}>
      {PLAYERS.map((player) => (
        <Tick
          key={player}
          label={words.player[player]}
          checked={players.includes(player)}
          set={() => toggle(player)}
        />
      ))}
      <Choice
        {...words.pattern}
        value={pattern}
        set={(next) => change({ band: { ...settings.band, pattern: next } }, words.pattern.label)}
      />
      <Tick {...words.click} checked={settings.click} set={(click) => change({ click }, words.click.label)} />
      <Tick
        {...words.vibrato}
        checked={settings.fiddle.vibrato}
        set={(vibrato) => change({ fiddle: { ...settings.fiddle, vibrato } }, words.vibrato.label)}
      />
    </Group>
  );
};

const PaperSettings = ({ settings, change }: PartProps) => {
  const { papers } = settings;
  return (
    <Group heading={words.paper}>
      <Words
        {...words.teacher}
        value={settings.teacher}
        set={(teacher) => change({ teacher }, words.teacher.label)}
      />
      {(['A4', 'Letter'] as const).map((paper) => (
        <Tick
          key={paper}
          label={words.papers[paper]}
          checked={papers.includes(paper)}
          set={(on) => {
            const next = (['A4', 'Letter'] as const).filter((p) => (p === paper ? on : papers.includes(p)));
            if (next.length > 0) change({ papers: next }, words.paper);
          }}
        />
      ))}
      <Tick
        {...words.largePrint}
        checked={settings.largePrint}
        set={(largePrint) => change({ largePrint }, words.largePrint.label)}
      />
      <Choice
        {...words.noteNames}
        value={settings.words}
        set={(next) => change({ words: next }, words.noteNames.label)}
      />
    </Group>
  );
};

/** All settings of a lesson, with short explanations; each takes effect at once. */
export const SettingsPanel = (props: SettingsProps) => (
  <div className="settings">
    <VersionSettings {...props} />
    <TempoSettings {...props} />
    <BackingSettings {...props} />
    <HandSettings {...props} />
    <PaperSettings {...props} />
    <AnotherKey data={props.data} move={props.move} said={props.said} />
  </div>
);
