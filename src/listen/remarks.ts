import { formatRational, toNumber } from '../core/index.ts';
import { DANCES, keyOf, pitchClass, printedName } from '../music/index.ts';
import type { Score } from '../score/index.ts';
import type { BarPlan } from './barFinder.ts';
import { betweenPitches } from './between.ts';
import type { Difference } from './differences.ts';
import { spelled } from './keyFinder.ts';
import type { Listening } from './listenTo.ts';
import { turntableSpeedOf } from './tuning.ts';

const C_MAJOR = keyOf(pitchClass('C'), 'major');
const nameOf = (semitone: number): string => printedName(spelled(semitone, C_MAJOR));

/** A tuning that is nearer to concert pitch needs no word, cents. */
const IN_TUNE = 5;

const tuningRemarks = ({ tuning, notes }: Listening): readonly string[] => {
  if (tuning === null) return [];
  const off = Math.round(Math.abs(tuning.cents));
  const speed = turntableSpeedOf(tuning.cents).toFixed(1);
  const between = betweenPitches(notes, tuning.cents).map(
    ({ semitone, cents, notes: count }) =>
      `${nameOf(semitone)} is played between ${nameOf(semitone)} and ${nameOf(semitone + 1)}: ${Math.round(cents)} cents above ${nameOf(semitone)} (${count} notes).`,
  );
  if (off < IN_TUNE) return between;
  const way = tuning.cents > 0 ? 'above' : 'below';
  return [
    `Tuned ${off} cents ${way} A = 440 Hz. If it is a disc that was played at 78.26 turns a minute, ${speed} turns bring it to concert pitch.`,
    ...between,
  ];
};

/** Plans whose scores lie so near each other can't be told apart by ear alone. Ours. */
const UNSURE = 0.12;

const rivalRemarks = (plan: BarPlan, others: readonly BarPlan[]): readonly string[] => {
  const { kind } = plan;
  const bar = others.find(
    (o) => o.kind.quavers === kind.quavers && o.start % kind.quavers !== plan.start % kind.quavers,
  );
  const other = others.find((o) => o.kind.quavers !== kind.quavers);
  const found: string[] = [];
  if (bar !== undefined && plan.score - bar.score < UNSURE) {
    const later = (((bar.start - plan.start) % kind.quavers) + kind.quavers) % kind.quavers;
    found.push(`Bar 1 may also begin ${later} ${later === 1 ? 'quaver' : 'quavers'} later: check it by ear.`);
  }
  if (other !== undefined && plan.score - other.score < UNSURE)
    found.push(
      `Is it a ${DANCES[kind.dance].name} or a ${DANCES[other.kind.dance].name}? Both fit; the first was taken.`,
    );
  return found;
};

/** Differences that are told one by one; of more, only the number. */
const MOST_TOLD = 12;

const timeWord = (pass: number): string => ['first', 'second', 'third', 'fourth'][pass] ?? `${pass + 1}th`;

const differenceRemark = ({ part, number, pass, kind, written, played }: Difference): string => {
  const bar = number === null ? `the pick-up to ${part}` : `bar ${number} (${part})`;
  const where = `In ${bar}, the ${timeWord(pass)} time,`;
  if (kind === 'leftOut') return `${where} ${nameOf(written ?? 0)} is left out.`;
  if (kind === 'added') return `${where} ${nameOf(played ?? 0)} is added.`;
  const [sound, note] = [played ?? 0, written ?? 0];
  if (sound % 12 === note % 12)
    return `${where} ${nameOf(note)} is played an octave ${sound > note ? 'higher' : 'lower'}.`;
  return `${where} ${nameOf(sound)} is played for ${nameOf(note)}.`;
};

const differenceRemarks = (differences: readonly Difference[]): readonly string[] => [
  ...differences.slice(0, MOST_TOLD).map(differenceRemark),
  ...(differences.length > MOST_TOLD ? [`And ${differences.length - MOST_TOLD} more differences.`] : []),
];

/** "faster", "slower", "as planned". */
const against = (played: number, planned: number): string => {
  const percent = Math.round(100 * (played / planned - 1));
  if (percent === 0) return 'as planned';
  return `${Math.abs(percent)} % ${percent > 0 ? 'faster' : 'slower'}`;
};

/** Planned against played tempo, in a sentence. */
const tempoRemarks = (listening: Listening, score: Score | undefined): readonly string[] => {
  const { tempo, found } = listening;
  if (tempo === null) return ['No steady tempo is heard.'];
  const span = `slowest bars ${Math.round(tempo.slowest)}, fastest ${Math.round(tempo.fastest)}`;
  if (found.kind !== 'tune') return [`Tempo: ${span} beats (${formatRational(tempo.beat)}) a minute.`];
  const own = score?.tempo;
  const said =
    own?.beatsPerMinute != null && own.beat !== null
      ? (own.beatsPerMinute * toNumber(own.beat)) / toNumber(tempo.beat)
      : found.dance.tempo.upToSpeed;
  const played = Math.round(tempo.beatsPerMinute);
  return [
    `Planned ${Math.round(said)} beats (${formatRational(tempo.beat)}) a minute, played ${played}: ${against(tempo.beatsPerMinute, said)}; ${span}.`,
  ];
};

/** Tunes that fit less well than this are mentioned as doubtful. */
const SURE_LIKENESS = 0.65;

const tuneRemarks = (listening: Listening, score: Score | undefined): readonly string[] => {
  const { found, transposition } = listening;
  if (score === undefined) return [];
  if (found.kind !== 'tune')
    return ['The tune given is not heard in the recording; it was listened to without it.'];
  const moved =
    transposition === 0
      ? []
      : [
          `It is played ${Math.abs(transposition)} semitones ${transposition > 0 ? 'higher' : 'lower'} than written.`,
        ];
  const unsure =
    found.likeness < SURE_LIKENESS ? ['The recording and the tune agree only in part: check the bars.'] : [];
  return [...moved, ...unsure, ...differenceRemarks(found.differences)];
};

/** What a teacher should know about a recording, in sentences, the most useful first. */
export const remarksOf = (listening: Listening, score?: Score): readonly string[] => {
  if (!listening.music) return ['No tune is heard in this recording.'];
  const { found } = listening;
  return [
    ...tuningRemarks(listening),
    ...tempoRemarks(listening, score),
    ...(listening.swing === null && found.kind !== 'none' && listening.tempo !== null && isSimple(listening)
      ? ["Swing: can't tell, too few pairs of quavers."]
      : []),
    ...(found.kind === 'heard' ? rivalRemarks(found.plan, found.others) : []),
    ...tuneRemarks(listening, score),
  ];
};

const isSimple = ({ tempo }: Listening): boolean => tempo !== null && tempo.beat.num !== 3;
