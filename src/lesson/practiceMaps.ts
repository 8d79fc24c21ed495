import { printedName } from '../music/index.ts';
import type { Score } from '../score/index.ts';
import type { Lesson } from './lesson.ts';
import { fingerMapOf, MAP_STRINGS } from './maps/fingerMap.ts';
import { fingerMapRemarks, fingerMapStrings } from './maps/fingerMapWords.ts';
import { fingersBeside, lastRowOf, rowDepth, rowName } from './maps/fingerRows.ts';
import { phraseMapOf } from './maps/phraseMap.ts';
import { boxWords, phraseMapSummary, stepWords } from './maps/phraseMapWords.ts';
import type { Words } from './words.ts';

/** A note on the learner's finger map. */
interface PracticeDot {
  /** Which string, 0 the lowest. */
  readonly string: number;
  /** 0 is open, 1 the last row of the drawing, to scale. */
  readonly depth: number;
  /** "F♯". */
  readonly name: string;
  /** What its row doesn't say: "3, 4"; else empty. */
  readonly fingers: string;
  readonly inTune: boolean;
}

/** A bar on the learner's phrase map. */
interface PracticeBox {
  /** Printed. */
  readonly number: number;
  /** In which step it is learnt. */
  readonly step: number;
  /** The same as an earlier bar. */
  readonly known: boolean;
  /** Which bar it is like ("= 1"), in lines. */
  readonly words: readonly string[];
}

/** The two maps of the learner's page, with all that they say in words. */
export interface PracticeMaps {
  readonly fingers: {
    /** Names of the strings, lowest first. */
    readonly strings: readonly string[];
    /** Rows that some note lies on, "low second". */
    readonly rows: readonly { readonly depth: number; readonly name: string }[];
    readonly dots: readonly PracticeDot[];
    readonly remarks: readonly string[];
    /** The tune's notes under their fingers, a line a string. */
    readonly byString: readonly string[];
  };
  readonly phrases: {
    /** "Sixteen bars, nine of them different." */
    readonly summary: string;
    readonly parts: readonly { readonly label: string; readonly boxes: readonly PracticeBox[] }[];
    /** The order of learning, step by step from 1. */
    readonly steps: readonly string[];
  };
}

/** Decimals of a depth: a hundredth of the drawing is less than a line's width. Ours. */
const DEPTH_STEPS = 1000;

const fullestOf = ({ ladder, versions }: Lesson): Score => ladder.at(-1)?.score ?? versions.full;

const fingersOf = (lesson: Lesson, words: Words): PracticeMaps['fingers'] => {
  const map = fingerMapOf(fullestOf(lesson));
  const last = lastRowOf(map.dots);
  const depth = (semitones: number): number =>
    Math.round(DEPTH_STEPS * rowDepth(semitones, last)) / DEPTH_STEPS;
  const rows = [...new Set(map.dots.map((d) => d.semitones))].toSorted((a, b) => a - b);
  return {
    strings: MAP_STRINGS,
    rows: rows.map((semitones) => ({ depth: depth(semitones), name: rowName(semitones, map.dots) })),
    dots: map.dots.map((dot) => ({
      string: MAP_STRINGS.indexOf(dot.string),
      depth: depth(dot.semitones),
      name: printedName(dot.pitch),
      fingers: fingersBeside(dot, map.dots),
      inTune: dot.inTune,
    })),
    remarks: fingerMapRemarks(map, words),
    byString: fingerMapStrings(map),
  };
};

const phrasesOf = (lesson: Lesson, words: Words): PracticeMaps['phrases'] => {
  const map = phraseMapOf(lesson.versions.plain, fullestOf(lesson));
  const labels = [...new Set(map.bars.map((b) => b.part))];
  return {
    summary: phraseMapSummary(map, words),
    parts: labels.map((label) => ({
      label,
      boxes: map.bars
        .filter((b) => b.part === label)
        .map((b) => ({
          number: b.number,
          step: b.step,
          known: b.likeness.kind === 'same',
          words: boxWords(map, b),
        })),
    })),
    steps: map.steps.map((step) => stepWords(map, step, words)),
  };
};

/** The maps of a lesson as the learner's page shows them: of its fullest version, as on paper. */
export const practiceMapsOf = (lesson: Lesson): PracticeMaps => {
  const { words } = lesson.settings;
  return { fingers: fingersOf(lesson, words), phrases: phrasesOf(lesson, words) };
};
