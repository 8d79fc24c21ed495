import { type ReactNode, useEffect, useRef } from 'react';
import { wording } from '../wording/index.ts';
import type { PanelName } from './view.ts';

/** The panels in the order in which their words stand. */
export const PANEL_NAMES: readonly PanelName[] = [
  'bar',
  'text',
  'settings',
  'words',
  'pack',
  'earlier',
  'keys',
];

interface PanelProps {
  readonly name: PanelName;
  readonly close: () => void;
  readonly children: ReactNode;
}

/** What is open beside the music; on a narrow screen, over it. */
export const PanelBeside = ({ name, close, children }: PanelProps) => {
  const panel = useRef<HTMLElement>(null);
  // biome-ignore lint/correctness/useExhaustiveDependencies: each panel takes the keyboard when it opens
  useEffect(() => panel.current?.focus(), [name]);
  return (
    <aside ref={panel} className={`panel panel-${name}`} tabIndex={-1} aria-label={wording.panels[name]}>
      <header>
        <h2>{wording.panels[name]}</h2>
        <button type="button" className="word" onClick={close}>
          {wording.panels.close}
        </button>
      </header>
      {children}
    </aside>
  );
};
