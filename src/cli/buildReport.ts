import { clockTime } from '../lesson/index.ts';
import type { BuildResult } from '../pack/index.ts';
import { complain, complainKept, EXIT, type Exit, type Io, say } from './io.ts';

/** What a report tells besides how the build ended. */
interface About {
  readonly out: string;
  readonly seconds: number;
  /** The parts that were built; null: all. */
  readonly only: readonly string[] | null;
}

/** Says how a build ended: what was made, and what could not be. */
export const reportBuild = (result: BuildResult, { out, seconds, only }: About, io: Io): Exit => {
  if (result.kind === 'refused') {
    complain(io, `${out}: ${result.message}`);
    return EXIT.input;
  }
  if (result.kind === 'nothing') {
    for (const failed of result.failed) complain(io, `could not make the ${failed.what}: ${failed.why}.`);
    complain(io, 'Nothing could be made. The target was left as it was.');
    return EXIT.world;
  }
  const { manifest } = result;
  const told = manifest.files.filter(({ part = '' }) => only === null || only.includes(part));
  const old = told.filter((f) => f.state === 'old').length;
  const files =
    only === null
      ? `${manifest.files.length} files`
      : `${told.length - old} of ${manifest.files.length} files made anew`;
  say(io, `${manifest.title}: ${files} in ${out} (${clockTime(seconds)})`);
  const width = Math.max(...told.map((f) => f.path.length), result.zip.length);
  for (const { path, what, state } of told)
    say(io, `  ${path.padEnd(width)}  ${what}${state === 'old' ? '  (old: could not be made anew)' : ''}`);
  say(io, `  ${result.zip.padEnd(width)}  all of it, ${(result.bytes / 1e6).toFixed(1)} MB`);
  for (const failed of manifest.failed) complain(io, `could not make the ${failed.what}: ${failed.why}.`);
  if (old > 0)
    complain(
      io,
      old === 1 ? 'One file of the former pack was kept.' : `${old} files of the former pack were kept.`,
    );
  complainKept(io, result.kept);
  return manifest.failed.length === 0 ? EXIT.done : EXIT.world;
};
