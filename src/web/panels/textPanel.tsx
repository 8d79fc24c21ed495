import { useEffect, useRef } from 'react';
import type { BarRange } from '../lesson/view.ts';
import { type AbcEditor, abcEditor } from '../text/abcEditor.ts';
import { wording } from '../wording/index.ts';
import type { BarPlace, TextProblem } from '../workroom/messages.ts';

interface TextProps {
  readonly abc: string;
  readonly problems: readonly TextProblem[];
  readonly bars: readonly BarPlace[];
  readonly chosen: BarRange | null;
  readonly write: (abc: string) => void;
  readonly choose: (range: BarRange) => void;
  readonly undo: () => void;
  readonly redo: () => void;
}

const barAt = (bars: readonly BarPlace[], at: number): number =>
  bars.findIndex((bar) => bar.from <= at && at < Math.max(bar.to, bar.from + 1));

/** The tune's text beside the staves; what is chosen here is chosen there. */
export const TextPanel = (props: TextProps) => {
  const { abc, problems, bars, chosen } = props;
  const host = useRef<HTMLDivElement>(null);
  const editor = useRef<AbcEditor | null>(null);
  const latest = useRef(props);
  latest.current = props;
  /** What was chosen here need not be selected here again. */
  const ownChoice = useRef<BarRange | null>(null);

  useEffect(() => {
    if (host.current === null) return;
    const opened = abcEditor(host.current, latest.current.abc, wording.text.name, {
      onText: (text) => latest.current.write(text),
      onCaret: (at) => {
        const bar = barAt(latest.current.bars, at);
        if (bar === -1) return;
        ownChoice.current = { from: bar, to: bar };
        latest.current.choose(ownChoice.current);
      },
      onUndo: () => latest.current.undo(),
      onRedo: () => latest.current.redo(),
    });
    editor.current = opened;
    return () => opened.close();
  }, []);
  useEffect(() => editor.current?.write(abc), [abc]);
  useEffect(() => editor.current?.complain(problems), [problems]);
  // biome-ignore lint/correctness/useExhaustiveDependencies: typing moves bars, but nobody has chosen anew
  useEffect(() => {
    if (chosen === null || (chosen.from === ownChoice.current?.from && chosen.to === ownChoice.current.to))
      return;
    ownChoice.current = null;
    const [first, last] = [bars[chosen.from], bars[chosen.to]];
    if (first !== undefined && last !== undefined && last.to > first.from)
      editor.current?.select(first.from, last.to);
  }, [chosen]);

  return (
    <div className="text">
      <div ref={host} className="editor" />
      <p className="quiet" role="status">
        {problems.length === 0 ? wording.text.fine : wording.text.problems(problems.length)}
      </p>
      <ul className="problems">
        {problems.map((problem) => (
          <li key={`${problem.from}:${problem.message}`} className={problem.severity}>
            <button
              type="button"
              className="word"
              onClick={() => editor.current?.select(problem.from, problem.to)}
            >
              {problem.message}
            </button>{' '}
            <span className="quiet">{problem.hint}</span>{' '}
            {problem.remedy !== null && (
              <button type="button" className="word remedy" onClick={() => props.write(mended(abc, problem))}>
                {problem.remedy.label}
              </button>
            )}
          </li>
        ))}
      </ul>
    </div>
  );
};

const mended = (abc: string, { remedy }: TextProblem): string =>
  remedy === null ? abc : abc.slice(0, remedy.from) + remedy.insert + abc.slice(remedy.to);
