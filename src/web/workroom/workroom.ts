import type { NoteEdit } from '../../notation/index.ts';
import type { BarAct } from './barMessages.ts';
import type { KeyWish, LadderLine, LadderMusic, ToWorkroom, WorkOrder, WorkReport } from './messages.ts';

/** The ladder's music with every line in it. */
export type WholeMusic = Omit<LadderMusic, 'lines'> & { readonly lines: readonly LadderLine[] };
/** A report whose music is whole. */
export type Worked =
  | Exclude<WorkReport, { kind: 'ladder' }>
  | (Omit<Extract<WorkReport, { kind: 'ladder' }>, 'music'> & { readonly music: WholeMusic });

/** The way to the workroom. */
export interface Workroom {
  readonly ask: (order: Omit<WorkOrder, 'job'>) => void;
  /** Has a bar told of, now and after every change; null: none. */
  readonly look: (at: number | null) => void;
  /** Asks what an act makes of lesson.json. */
  readonly act: (act: BarAct) => void;
  /** Asks what an edit of a note makes of tune.abc. */
  readonly edit: (edit: NoteEdit) => void;
  /** Asks for the text with the chords of the backing written in. */
  readonly writeChords: () => void;
  /** Asks for the lesson in another key. */
  readonly move: (wish: KeyWish) => void;
  /** Asks how the lesson would sound after an act, at a bar. */
  readonly try: (act: BarAct, at: number) => void;
  readonly close: () => void;
}

/** Opens a workroom; `hear` is told what it reports. Lines that have not changed are the same objects as before. */
export const openWorkroom = (hear: (worked: Worked) => void): Workroom => {
  const worker = new Worker(new URL('./worker.ts', import.meta.url), { type: 'module' });
  let job = 0;
  let lines: readonly LadderLine[] = [];
  worker.onmessage = ({ data }: MessageEvent<WorkReport>) => {
    if (data.kind !== 'ladder') return hear(data);
    const known = lines;
    lines = data.music.lines.flatMap((line) => (typeof line === 'number' ? (known[line] ?? []) : [line]));
    hear({ ...data, music: { ...data.music, lines } });
  };
  const send = (message: ToWorkroom): void => worker.postMessage(message);
  return {
    ask: (order) => {
      job += 1;
      send({ kind: 'work', ...order, job });
    },
    look: (at) => send({ kind: 'look', at }),
    act: (act) => send({ kind: 'act', act }),
    edit: (edit) => send({ kind: 'edit', edit }),
    writeChords: () => send({ kind: 'writeChords' }),
    move: (wish) => send({ kind: 'move', ...wish }),
    try: (act, at) => send({ kind: 'try', act, at }),
    close: () => worker.terminate(),
  };
};
