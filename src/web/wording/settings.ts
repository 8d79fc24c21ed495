// What the settings of a lesson are called, and a short explanation of each.
import type { Paper } from '../../lesson/index.ts';
import type { Player } from '../../perform/index.ts';

const tempi: Readonly<Record<'learnBones' | 'learn' | 'steady' | 'upToSpeed', string>> = {
  learnBones: 'The bones, to learn',
  learn: 'To learn',
  steady: 'Steady',
  upToSpeed: 'Up to speed',
};

const player: Readonly<Record<Player, string>> = {
  guitar: 'Guitar',
  piano: 'Piano',
  bass: 'Bass',
  drum: 'Frame drum',
};

const papers: Readonly<Record<Paper, string>> = { A4: 'A4', Letter: 'Letter (US)' };

/** Labels, choices and explanations of the settings. */
export const settingsWording = {
  versions: 'The versions',
  density: {
    label: 'How full the bones are',
    about: 'Fewer notes are easier; fuller bones sound more like the tune.',
    of: [
      ['barest', 'the barest'],
      ['sparser', 'sparser'],
      ['usual', 'as the dance asks'],
      ['fuller', 'fuller'],
      ['fullest', 'the fullest'],
    ],
  },
  ornaments: {
    label: 'Ornaments in “all the notes”',
    about: 'The main ones are cuts and rolls on crotchets and longer notes.',
    of: [
      ['none', 'none'],
      ['main', 'the main ones'],
    ],
  },
  longRoll: {
    label: 'What stands for a long roll there',
    of: [
      ['held', 'the note, held'],
      ['crotchetAndQuaver', 'a crotchet and a quaver'],
    ],
  },
  slurs: {
    label: 'Slurs in “all the notes”',
    about: 'Another style is put over the tune; the full version keeps yours.',
    of: [
      ['written', 'as written'],
      ['separate', 'separate bows'],
      ['onTheBeat', 'from the beat on'],
      ['intoTheBeat', 'into the beat'],
      ['hooked', 'snaps in one bow'],
    ],
  },
  hands: 'The hands',
  marks: {
    label: 'Fingers and bows on the sheets',
    of: [
      ['none', 'those written in the tune'],
      ['some', 'where nobody would guess'],
      ['all', 'all of them'],
    ],
  },
  stayDowns: {
    label: 'Fingers that stay down',
    of: [
      ['bones', 'on the bones’ sheet'],
      ['all', 'on all sheets'],
      ['none', 'on none'],
    ],
  },
  position: {
    label: 'Highest position',
    of: [
      [1, 'first'],
      [3, 'third'],
    ],
  },
  tuning: {
    label: 'Strings tuned to',
    of: [
      ['GDAE', 'G D A E'],
      ['AEAE', 'A E A E'],
      ['ADAE', 'A D A E'],
      ['GDGD', 'G D G D'],
    ],
  },
  tempi: 'Tempi and swing',
  tempoAbout: (beat: string) =>
    beat === '' ? 'Left open, the dance decides.' : `In ${beat}s a minute. Left open, the dance decides.`,
  tempo: (step: keyof typeof tempi) => tempi[step],
  swing: {
    label: 'Swing, long to short',
    about: '1 is even, 2 is twice as long; left open, as the dance has it.',
  },
  times: { label: 'Times through in a track' },
  backing: 'Backing and sound',
  player,
  pattern: {
    label: 'Manner of the backing',
    of: [
      ['usual', 'the usual one'],
      ['other', 'the other one'],
    ],
  },
  click: { label: 'A click in every track' },
  vibrato: { label: 'Vibrato on long notes' },
  paper: 'On paper',
  teacher: { label: 'Your name', about: 'It stands at the foot of every sheet.' },
  papers,
  largePrint: { label: 'Large print', about: 'Sheets for weak eyes, on more pages.' },
  noteNames: {
    label: 'Names of notes',
    of: [
      ['british', 'crotchet, quaver, bar'],
      ['us', 'quarter note, eighth note, measure'],
    ],
  },
} as const;
