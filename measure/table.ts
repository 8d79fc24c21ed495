/** One measured figure beside what it should be. */
export interface MeasureRow {
  /** What was measured, with its unit. */
  readonly what: string;
  readonly ours: number | string;
  /** What it must be, "≥ .99", "0", "reported". */
  readonly target: string;
  /** The same figure for the usual way of doing it (mechanical thinning, a stock player), where there is one. */
  readonly yardstick?: number | string;
  /** Whether ours meets the target; null where the row is only reported. */
  readonly holds: boolean | null;
}

/**
 * What one file of measure/ or bench/ found out; it exports `table: () => Promise<MeasureTable>`.
 *
 * Where the material is absent, `rows` is empty and `skipped` says what is missing.
 */
export interface MeasureTable {
  readonly title: string;
  /** The command that prints this table again, such as "npm run measure -- abc". */
  readonly command: string;
  readonly rows: readonly MeasureRow[];
  readonly skipped?: string;
}
