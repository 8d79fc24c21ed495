import { spawn } from 'node:child_process';

/** The program that opens an address in the user's browser; null where there is no screen. */
const openerFor = (address: string): readonly [string, readonly string[]] | null => {
  if (process.platform === 'darwin') return ['open', [address]];
  if (process.platform === 'win32') return ['rundll32', ['url.dll,FileProtocolHandler', address]];
  const { DISPLAY, WAYLAND_DISPLAY } = process.env;
  return (DISPLAY ?? WAYLAND_DISPLAY ?? '') === '' ? null : ['xdg-open', [address]];
};

/** Opens an address in the user's browser where there is one. Never fails: the address is printed as well. */
export const openBrowser = (address: string): void => {
  const opener = openerFor(address);
  if (opener === null) return;
  try {
    const child = spawn(opener[0], opener[1], { stdio: 'ignore', detached: true });
    child.on('error', () => undefined);
    child.unref();
  } catch {
    // The user opens the printed address.
  }
};
