// Every word that the workbench itself says. What a lesson says comes with the lesson.

import { bar, camera, move, note } from './bar.ts';
import { many, minutes } from './counting.ts';
import {
  earlier,
  keys,
  ladder,
  lessonText,
  pack,
  panels,
  playing,
  remedies,
  safety,
  text,
} from './lesson.ts';
import { sets } from './sets.ts';
import { broken, making, shelf } from './shelf.ts';
import { comparing, techniques } from './techniques.ts';

/** What the workbench says. */
export const wording = {
  product: 'Tuneladder',
  away: 'the program does not answer. Start it again with npm start; this page goes on by itself.',
  refused: (status: number) => `The program refused (${status}).`,
  loading: 'One moment …',
  notThere: 'There is no such page.',
  minutes,
  many,
  shelf,
  sets,
  techniques,
  comparing,
  making,
  safety,
  ladder,
  playing,
  panels,
  text,
  keys,
  remedies,
  bar,
  camera,
  move,
  note,
  broken,
  earlier,
  lessonText,
  pack,
  undo: 'Undo',
  redo: 'Redo',
  undoWhat: (what: string) => `Undo ${what}`,
  redoWhat: (what: string) => `Redo ${what}`,
} as const;
