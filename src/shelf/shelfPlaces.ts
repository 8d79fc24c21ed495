// Folders and files of a shelf that are no lessons.

/** Deleted lessons and sets stay on the shelf, out of sight, for their owner to bring back or to throw away. */
export const DELETED = '.deleted';
/** The file of a deleted set, in a folder of its own among the deleted ones. */
export const DELETED_SET = 'set.json';
/** The folder of sets. */
export const SETS = 'sets';
