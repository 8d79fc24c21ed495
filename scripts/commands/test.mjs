/** `npm test`: the whole gate, as `npm run check`. */
export { run } from './check.mjs';
