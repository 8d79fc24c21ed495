/** What keys do. */
export interface KeyActs {
  readonly toggle: () => void;
  readonly tempo: (by: number) => void;
  readonly version: (place: number) => void;
  readonly repeat: (bar: number) => void;
  /** The next ornament of a bar, slowly. */
  readonly ornament: (bar: number) => void;
  readonly letGo: () => void;
}

/** Keys for the whole page; a field or button that needs a key itself keeps it. */
export const listenToKeys = (acts: KeyActs): void => {
  addEventListener('keydown', (event) => {
    if (event.ctrlKey || event.metaKey || event.altKey) return;
    const target = event.target instanceof HTMLElement ? event.target : document.body;
    const bar = target.closest<HTMLElement>('.bar')?.dataset.bar;
    const busy = target.matches('input, summary, a, button:not(.bar)');
    if (event.key === ' ' && !busy) {
      event.preventDefault();
      acts.toggle();
    } else if (event.key === 'Escape') acts.letGo();
    else if (target.matches('input')) return;
    else if (event.key === '+' || event.key === '=') acts.tempo(1);
    else if (event.key === '-') acts.tempo(-1);
    else if (/^[1-9]$/.test(event.key)) acts.version(Number(event.key) - 1);
    else if ((event.key === 'l' || event.key === 'L') && bar !== undefined) acts.repeat(Number(bar));
    else if ((event.key === 'o' || event.key === 'O') && bar !== undefined) acts.ornament(Number(bar));
  });
  // A button would take the space key for a touch when it is let go.
  addEventListener('keyup', (event) => {
    if (event.key === ' ' && event.target instanceof HTMLElement && event.target.matches('.bar'))
      event.preventDefault();
  });
};
