/** Does work on one lesson after the other: what is asked for while something runs waits for it. */
export type LessonQueue = <T>(id: string, work: () => Promise<T>) => Promise<T>;

/** A queue for each lesson; different lessons do not wait for each other. */
export const lessonQueue = (): LessonQueue => {
  const last = new Map<string, Promise<unknown>>();
  return (id, work) => {
    const before = last.get(id) ?? Promise.resolve();
    const now = before.then(work, work);
    const quiet = now.catch(() => undefined);
    last.set(id, quiet);
    void quiet.then(() => {
      if (last.get(id) === quiet) last.delete(id);
    });
    return now;
  };
};
