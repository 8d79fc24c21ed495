import type { LadderLine, LadderMusic, WorkOrder, WorkReport } from './messages.ts';

/** The ladder's music with every line in it. */
export type WholeMusic = Omit<LadderMusic, 'lines'> & { readonly lines: readonly LadderLine[] };
/** A report whose music is whole. */
export type Worked =
  | Exclude<WorkReport, { kind: 'ladder' }>
  | (Omit<Extract<WorkReport, { kind: 'ladder' }>, 'music'> & { readonly music: WholeMusic });

/** The way to the workroom. */
export interface Workroom {
  readonly ask: (order: Omit<WorkOrder, 'job'>) => void;
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
  return {
    ask: (order) => {
      job += 1;
      worker.postMessage({ ...order, job } satisfies WorkOrder);
    },
    close: () => worker.terminate(),
  };
};
