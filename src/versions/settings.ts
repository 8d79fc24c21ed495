/** How full the bones are, barest first. */
export const DENSITIES = ['barest', 'sparser', 'usual', 'fuller', 'fullest'] as const;
/** A step of density; `usual` is what the dance asks for. */
export type Density = (typeof DENSITIES)[number];

/** What becomes of each ornament on the way from the full version to the plain one. Common practice: see `PLAIN_AS_USUAL`. */
export interface PlainSwitches {
  /** `main` keeps cuts and rolls on notes of a crotchet and longer and leaves the rest out. Default `none`. */
  readonly ornaments: 'none' | 'main';
  /** A roll on a dotted crotchet: the held note, or crotchet and quaver. Default `held`. */
  readonly longRoll: 'held' | 'crotchetAndQuaver';
  /** A run of three in the time of two running notes: its first and last note, or as written. Default `twoNotes`. */
  readonly runTriplet: 'twoNotes' | 'stays';
  /** Two equal notes under one slur with a cut between them: a new stroke for the second, or one longer note. Default `newStroke`. */
  readonly cutBetweenSlurred: 'newStroke' | 'joined';
}

/** The switches as most teachers would set them. Common practice. */
export const PLAIN_AS_USUAL: PlainSwitches = {
  ornaments: 'none',
  longRoll: 'held',
  runTriplet: 'twoNotes',
  cutBetweenSlurred: 'newStroke',
};

/** How the versions of a tune are made; every field may be left out. */
export interface VersionSettings {
  /** How full the bones are. Default `usual`. */
  readonly density?: Density;
  /** Switches of the plain version; those left out are `PLAIN_AS_USUAL`. */
  readonly plain?: Partial<PlainSwitches>;
}
