/** The outside world refused: a disk is full, a folder may not be written. The message says what to do. */
export class WorldError extends Error {
  override readonly name = 'WorldError';
}

const REASONS: Readonly<Record<string, string>> = {
  EACCES: 'you have no permission there',
  EPERM: 'you have no permission there',
  EROFS: 'that disk is read-only',
  ENOSPC: 'the disk is full',
  EDQUOT: 'your disk quota is used up',
  ENAMETOOLONG: 'the name is too long',
  ENOTDIR: 'a part of that path is a file, not a folder',
  EEXIST: 'a part of that path is a file, not a folder',
  EISDIR: 'that is a folder',
  EBUSY: 'it is in use by another program',
  ENOENT: 'there is no such file or folder',
  EMFILE: 'too many files are open',
};

const hasCode = (error: unknown): error is Error & { readonly code: string } =>
  error instanceof Error && 'code' in error && typeof error.code === 'string';

/** The system's code of a failed file call ("ENOENT"); undefined for other errors. */
export const codeOf = (error: unknown): string | undefined => (hasCode(error) ? error.code : undefined);

/** What went wrong with a file call, in words. */
export const reasonOf = (error: unknown): string => {
  if (hasCode(error)) return REASONS[error.code] ?? error.message;
  return error instanceof Error ? error.message : String(error);
};

/** Names what was being done when the world refused. */
export const worldError = (doing: string, cause: unknown): WorldError =>
  new WorldError(`${doing}: ${reasonOf(cause)}`, { cause });
