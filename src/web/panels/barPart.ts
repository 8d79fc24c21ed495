import type { BarAct, BarReport } from '../workroom/barMessages.ts';

/** What a part of "This bar" is given: the bar, how to act on it, and how to hear an act before it is taken. */
export interface BarPartProps {
  readonly bar: BarReport;
  readonly act: (act: BarAct) => void;
  readonly hear: (act: BarAct, at: number) => void;
}
