import { useState } from 'react';
import { type PracticeData, percentAt } from '../../lesson/index.ts';
import { nameOfBar, nameOfBars, type View } from '../lesson/view.ts';
import { wording } from '../wording/index.ts';
import type { BarPlace } from '../workroom/messages.ts';
import { Slide } from './slide.tsx';
import { learnPercentOf, PERCENT, type Play, percentOf } from './usePlay.ts';

const { playing } = wording;

interface BarProps {
  readonly play: Play;
  readonly data: PracticeData | null;
  readonly bars: readonly BarPlace[];
  readonly view: View;
  readonly change: (next: Partial<View>) => void;
  readonly setSwing: (swing: number | null) => void;
}

const TEMPI = ['learn', 'steady', 'upToSpeed'] as const;

/** Tempo: a bead, what it is in beats, and the three tempi of the lesson. */
const TempoRow = ({ data, view, change }: { data: PracticeData } & Pick<BarProps, 'view' | 'change'>) => {
  const percent = percentOf(view, data);
  const beats = playing.beats(data.beat, (data.tempos.upToSpeed * percent) / 100);
  return (
    <div className="tempo">
      <Slide
        name={playing.tempo}
        value={percent}
        least={PERCENT.least}
        most={PERCENT.most}
        step={1}
        says={`${playing.percent(percent)}, ${beats}`}
        set={(value) => change({ percent: value })}
      />
      <div className="steps">
        {TEMPI.map((step) => {
          const value = step === 'learn' ? learnPercentOf(view, data) : percentAt(data, data.tempos[step]);
          return (
            <button
              key={step}
              type="button"
              className="word"
              aria-pressed={value === percent}
              // To learn goes with the versions that are heard.
              onClick={() => change({ percent: step === 'learn' ? 0 : value })}
            >
              {playing.step[step]}
            </button>
          );
        })}
      </div>
    </div>
  );
};

/** Swing and levels. */
const MoreRow = ({
  data,
  view,
  change,
  setSwing,
}: { data: PracticeData } & Omit<BarProps, 'play' | 'bars' | 'data'>) => (
  <div className="levels">
    <Slide
      name={playing.swing}
      value={data.swing ?? 1}
      least={1}
      most={2.2}
      step={0.05}
      says={data.swing === null ? playing.swingAsDance : playing.swingIs(data.swing)}
      set={setSwing}
    />
    <button type="button" className="word" disabled={data.swing === null} onClick={() => setSwing(null)}>
      {playing.asDance}
    </button>
    {(['fiddle', 'backing', 'click'] as const).map((group) => (
      <Slide
        key={group}
        name={playing[group]}
        value={view[group]}
        least={0}
        most={1.5}
        step={0.05}
        says={playing.percent(Math.round(view[group] * 100))}
        set={(value) => change({ [group]: value })}
      />
    ))}
    <p className="quiet">{playing.care}</p>
  </div>
);

const whereWords = ({ chosen, looping }: View, bars: readonly BarPlace[]): string => {
  if (chosen === null) return playing.fromStart;
  return looping ? nameOfBars(bars, chosen) : playing.from(nameOfBar(bars, chosen.from));
};

/** What plays, from where, how fast: always at hand. */
export const PlayBar = ({ play, data, bars, view, change, setSwing }: BarProps) => {
  const [more, setMore] = useState(false);
  const word = play.state === 'ready' ? (play.isPlaying ? playing.stop : playing.play) : playing.wait;
  return (
    <section className="hand" aria-label={playing.play}>
      {more && data !== null && <MoreRow data={data} view={view} change={change} setSwing={setSwing} />}
      <div className="row">
        <button
          type="button"
          className="play"
          id="play"
          disabled={play.state !== 'ready'}
          onClick={play.toggle}
        >
          {play.state === 'none' ? playing.noSound : word}
        </button>
        <div className="place">
          <span className="where">
            {play.isCountingIn && <i aria-hidden="true">{playing.counting}</i>}
            <span aria-live="polite" className={play.isCountingIn ? 'unseen' : ''}>
              {whereWords(view, bars)}
            </span>
          </span>
          <button
            type="button"
            className="word"
            aria-pressed={view.looping}
            disabled={view.chosen === null}
            onClick={() => change({ looping: !view.looping })}
          >
            {playing.loopWord}
          </button>
          <button
            type="button"
            className="word"
            disabled={view.chosen === null}
            onClick={() => change({ chosen: null, looping: false })}
          >
            {playing.toStart}
          </button>
        </div>
        {data !== null && <TempoRow data={data} view={view} change={change} />}
        <label className="tick">
          <input
            type="checkbox"
            checked={view.countIn}
            onChange={(event) => change({ countIn: event.target.checked })}
          />
          <span>{playing.countIn}</span>
        </label>
        <button type="button" className="word" aria-expanded={more} onClick={() => setMore(!more)}>
          {playing.more}
        </button>
      </div>
    </section>
  );
};
