import { fileURLToPath } from 'node:url';

/** The folder of the checkout or of the installed package. */
export const ROOT = fileURLToPath(new URL('../..', import.meta.url)).replace(/[/\\]$/, '');
