import { useEffect, useRef } from 'react';
import type { PanelName } from './view.ts';

/** What keys do on the lesson's page. */
export interface KeyActs {
  readonly toggle: () => void;
  readonly tempo: (by: number) => void;
  readonly hear: (place: number) => void;
  readonly show: (place: number) => void;
  readonly loop: () => void;
  readonly letGo: () => void;
  readonly undo: () => void;
  readonly redo: () => void;
  readonly panel: (name: PanelName) => void;
}

const PANELS: Readonly<Record<string, PanelName>> = {
  b: 'bar',
  t: 'text',
  s: 'settings',
  w: 'words',
  p: 'pack',
  '?': 'keys',
};

/** Undo and redo, also while a field of ours has the keyboard. */
const withControl = (event: KeyboardEvent, acts: KeyActs): boolean => {
  const key = event.key.toLowerCase();
  if (event.altKey || (key !== 'z' && key !== 'y')) return false;
  if (key === 'y' || event.shiftKey) acts.redo();
  else acts.undo();
  return true;
};

const digitOf = (event: KeyboardEvent): number => Number(/^Digit([1-4])$/.exec(event.code)?.[1] ?? 0);

const alone = (event: KeyboardEvent, acts: KeyActs): boolean => {
  const digit = digitOf(event);
  const panel = PANELS[event.key.toLowerCase()];
  if (digit > 0) (event.shiftKey ? acts.show : acts.hear)(digit - 1);
  else if (event.key === '+' || event.key === '=') acts.tempo(1);
  else if (event.key === '-') acts.tempo(-1);
  else if (event.key.toLowerCase() === 'l') acts.loop();
  else if (panel !== undefined) acts.panel(panel);
  else return false;
  return true;
};

/** Keys for the whole page; a field that needs a key itself keeps it. */
export const useKeys = (acts: KeyActs): void => {
  const latest = useRef(acts);
  latest.current = acts;
  useEffect(() => {
    const heard = (event: KeyboardEvent): void => {
      const target = event.target instanceof HTMLElement ? event.target : document.body;
      // The text's own keys are the editor's.
      if (target.closest('.cm-editor') !== null) {
        if (event.key === 'Escape') latest.current.letGo();
        return;
      }
      const isField = target.matches('input:not([type=checkbox]):not([type=range]), textarea, select');
      const isButton = target.matches('button:not(.bar), a, summary, input, select');
      let done = false;
      if (event.ctrlKey || event.metaKey) done = withControl(event, latest.current);
      else if (event.key === 'Escape') latest.current.letGo();
      else if (isField || event.altKey) return;
      else if (event.key === ' ' && !isButton) {
        latest.current.toggle();
        done = true;
      } else if (!target.matches('input[type=range]')) done = alone(event, latest.current);
      if (done) event.preventDefault();
    };
    const released = (event: KeyboardEvent): void => {
      // A bar's button would take the space key for a touch when it is let go.
      if (event.key === ' ' && event.target instanceof HTMLElement && event.target.matches('.bar'))
        event.preventDefault();
    };
    addEventListener('keydown', heard);
    addEventListener('keyup', released);
    return () => {
      removeEventListener('keydown', heard);
      removeEventListener('keyup', released);
    };
  }, []);
};
