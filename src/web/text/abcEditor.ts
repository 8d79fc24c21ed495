import { defaultKeymap, indentWithTab } from '@codemirror/commands';
import { type Diagnostic, lintGutter, lintKeymap, setDiagnostics } from '@codemirror/lint';
import { Annotation, EditorState, type Extension } from '@codemirror/state';
import {
  Decoration,
  type DecorationSet,
  drawSelection,
  EditorView,
  keymap,
  lineNumbers,
  MatchDecorator,
  ViewPlugin,
  type ViewUpdate,
} from '@codemirror/view';
import type { TextProblem } from '../workroom/messages.ts';

/** What the editor tells the page. */
export interface EditorEvents {
  readonly onText: (text: string) => void;
  /** The caret was moved by the user. Offset in UTF-16 code units. */
  readonly onCaret: (at: number) => void;
  readonly onUndo: () => void;
  readonly onRedo: () => void;
}

/** The text beside the staves. */
export interface AbcEditor {
  /** Puts another text in, as little as must be. */
  readonly write: (text: string) => void;
  readonly complain: (problems: readonly TextProblem[]) => void;
  /** Selects a stretch and brings it into view, without a word to the page. */
  readonly select: (from: number, to: number) => void;
  readonly focus: () => void;
  readonly close: () => void;
}

/** Marks what the page itself has done. */
const fromPage = Annotation.define<boolean>();

const KINDS = new Map([
  [/^(?:[A-Za-z]:|\+:)/, 'abc-field'],
  [/^%/, 'abc-remark'],
  [/^"/, 'abc-words'],
  [/^[|:[\]]/, 'abc-bar'],
]);

/** Fields, remarks, words in quotes and bar lines, so that the eye finds the notes. */
const signs = new MatchDecorator({
  regexp: /^(?:[A-Za-z]:|\+:).*|%.*|"[^"\n]*"|:?\|[|\]:]?(?:\[?\d)?|\[\d|::/gm,
  decoration: ([text]) => {
    const kind = [...KINDS].find(([sign]) => sign.test(text))?.[1] ?? 'abc-bar';
    return Decoration.mark({ class: kind });
  },
});

const colouring = ViewPlugin.fromClass(
  class {
    decorations: DecorationSet;
    constructor(view: EditorView) {
      this.decorations = signs.createDeco(view);
    }
    update(update: ViewUpdate): void {
      this.decorations = signs.updateDeco(update, this.decorations);
    }
  },
  { decorations: (plugin) => plugin.decorations },
);

/** Undo is the page's: it knows of changes that were not typed. */
const pageKeys = ({ onUndo, onRedo }: EditorEvents): Extension => {
  const does = (act: () => void) => () => {
    act();
    return true;
  };
  return keymap.of([
    { key: 'Mod-z', run: does(onUndo), preventDefault: true },
    { key: 'Mod-y', run: does(onRedo), preventDefault: true },
    { key: 'Mod-Shift-z', run: does(onRedo), preventDefault: true },
  ]);
};

const heard = (events: EditorEvents): Extension =>
  EditorView.updateListener.of((update) => {
    if (update.transactions.some((t) => t.annotation(fromPage) === true)) return;
    if (update.docChanged) events.onText(update.state.doc.toString());
    else if (update.selectionSet) events.onCaret(update.state.selection.main.head);
  });

const diagnosticOf = (problem: TextProblem, length: number): Diagnostic => {
  const from = Math.min(problem.from, Math.max(0, length - 1));
  const { remedy } = problem;
  return {
    from,
    to: Math.min(length, Math.max(from, problem.to)),
    severity: problem.severity === 'remark' ? 'info' : problem.severity,
    message: problem.hint === '' ? problem.message : `${problem.message} ${problem.hint}`,
    actions:
      remedy === null
        ? []
        : [
            {
              name: remedy.label,
              apply: (view) =>
                view.dispatch({ changes: { from: remedy.from, to: remedy.to, insert: remedy.insert } }),
            },
          ],
  };
};

/** The change that makes one text of another, for the editor. */
const changeBetween = (before: string, after: string) => {
  const most = Math.min(before.length, after.length);
  let start = 0;
  while (start < most && before[start] === after[start]) start += 1;
  let end = 0;
  while (end < most - start && before[before.length - 1 - end] === after[after.length - 1 - end]) end += 1;
  return { from: start, to: before.length - end, insert: after.slice(start, after.length - end) };
};

/** Opens an editor in an element. @param name - what a screen reader calls it */
export const abcEditor = (
  parent: HTMLElement,
  text: string,
  name: string,
  events: EditorEvents,
): AbcEditor => {
  const nonce = document.documentElement.dataset.nonce ?? '';
  const view = new EditorView({
    parent,
    state: EditorState.create({
      doc: text,
      extensions: [
        EditorState.lineSeparator.of('\n'),
        EditorView.cspNonce.of(nonce),
        EditorView.lineWrapping,
        EditorView.contentAttributes.of({ 'aria-label': name, spellcheck: 'false' }),
        lineNumbers(),
        lintGutter(),
        drawSelection(),
        colouring,
        pageKeys(events),
        keymap.of([...lintKeymap, ...defaultKeymap.filter((k) => k.key !== 'Mod-z'), indentWithTab]),
        heard(events),
      ],
    }),
  });
  return {
    write: (next) => {
      const before = view.state.doc.toString();
      if (before === next) return;
      view.dispatch({ changes: changeBetween(before, next), annotations: fromPage.of(true) });
    },
    complain: (problems) => {
      const length = view.state.doc.length;
      const list = problems.map((problem) => diagnosticOf(problem, length));
      view.dispatch(setDiagnostics(view.state, list), { annotations: fromPage.of(true) });
    },
    select: (from, to) => {
      const length = view.state.doc.length;
      const selection = { anchor: Math.min(from, length), head: Math.min(to, length) };
      view.dispatch({
        selection,
        effects: EditorView.scrollIntoView(selection.anchor, { y: 'center' }),
        annotations: fromPage.of(true),
      });
    },
    focus: () => view.focus(),
    close: () => view.destroy(),
  };
};
