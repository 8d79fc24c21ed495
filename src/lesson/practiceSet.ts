/** The set that a learner's page is of, as each of its tunes knows it. */
export interface PracticeSet {
  readonly title: string;
  /** Which of the tunes this is, from 0. */
  readonly place: number;
  readonly tunes: readonly {
    readonly title: string;
    /** "twice through". */
    readonly times: string;
    /** How it goes over into the next, in sentences; none behind the last one. */
    readonly corner: readonly string[];
  }[];
}
