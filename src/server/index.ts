export type { RunningServer, ServerOptions } from './startServer.ts';
export { startServer } from './startServer.ts';
