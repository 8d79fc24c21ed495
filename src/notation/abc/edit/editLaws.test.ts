import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { formatRational, type Random, randomFrom } from '../../../core/index.ts';
import { type Pitch, staffStepOf } from '../../../music/index.ts';
import {
  type Address,
  addressKey,
  type Bow,
  barsOf,
  type Finger,
  notesOf,
  type OrnamentSign,
  type PlacedNote,
  placedEvents,
  type Score,
} from '../../../score/index.ts';
import { scoreArbitrary } from '../../testing/scoreArbitrary.ts';
import { readAbc, writeAbc } from '../index.ts';
import type { ReadTune } from '../readTune.ts';
import { editedAbc } from './editedAbc.ts';
import type { NoteEdit, TextChange } from './noteEdit.ts';

const SEED = 20_260_803;
const DATA = fileURLToPath(new URL('../../../../../shared/data/corpora/', import.meta.url));
const skipped = !existsSync(DATA);
if (skipped) process.stderr.write('skipped: edits of corpus tunes, ../shared is not here\n');

const one = <T>(random: Random, list: readonly T[]): T => list[Math.floor(random.next() * list.length)] as T;

const SIGNS: readonly OrnamentSign[] = ['roll', 'slide', 'trill', 'turn', 'upperMordent', 'lowerMordent'];

/** An edit of some note, and the one that takes it back where that is another edit. */
const someEdit = (
  random: Random,
  tune: ReadTune,
): { readonly edit: NoteEdit; readonly back: NoteEdit | null } => {
  const notes = notesOf(tune.score);
  const index = Math.floor(random.next() * notes.length);
  const { note, address } = notes[index] as PlacedNote;
  const at = [address];
  const bar = barsOf(tune.score).find((b) => b.part === address.part && b.index === address.bar)?.bar;
  switch (Math.floor(random.next() * 9)) {
    case 0: {
      const finger = one<Finger | null>(random, [0, 1, 2, 3, 4, null]);
      const back = note.fingers.length === 0 ? ({ kind: 'finger', at, finger: null } as const) : null;
      return { edit: { kind: 'finger', at, finger }, back };
    }
    case 1: {
      const bow = one<Bow | null>(random, ['up', 'down', null]);
      return {
        edit: { kind: 'bow', at, bow },
        back: note.bow === null ? { kind: 'bow', at, bow: null } : null,
      };
    }
    case 2: {
      const sign = one(random, SIGNS);
      const on = random.next() < 0.7;
      const back = on && !note.signs.includes(sign) ? ({ kind: 'sign', at, sign, on: false } as const) : null;
      return { edit: { kind: 'sign', at, sign, on }, back };
    }
    case 3: {
      const pitches = one<readonly Pitch[]>(random, [[], [{ step: 'A', alter: 0, octave: 4 }], note.pitches]);
      return { edit: { kind: 'graces', at: address, pitches }, back: null };
    }
    case 4: {
      const text = one(random, ['G', 'Em', 'D7', null]);
      const free = bar?.chords.every((c) => formatRational(c.onset) !== formatRational(address.onset));
      return {
        edit: { kind: 'chord', at: address, text },
        back: free === true ? { kind: 'chord', at: address, text: null } : null,
      };
    }
    case 5: {
      const to =
        notes[Math.min(notes.length - 1, index + 1 + Math.floor(random.next() * 4))]?.address ?? address;
      return { edit: { kind: 'slur', from: address, to, on: random.next() < 0.7 }, back: null };
    }
    case 6:
      return { edit: { kind: 'step', at, by: one(random, [-2, -1, 1, 2]) }, back: null };
    case 7:
      return { edit: { kind: 'octave', at, by: one(random, [-1, 1]) }, back: null };
    default: {
      const others = bar === undefined ? [] : placedEvents(bar).map(({ onset }) => ({ ...address, onset }));
      return {
        edit: {
          kind: 'length',
          at: address,
          times: one(random, ['double', 'half']),
          with: one(random, others),
        },
        back: null,
      };
    }
  }
};

const inverse = (text: string, changes: readonly TextChange[]): readonly TextChange[] => {
  let moved = 0;
  return changes.map(({ from, to, insert }) => {
    const back = { from: from + moved, to: from + moved + insert.length, insert: text.slice(from, to) };
    moved += insert.length - (to - from);
    return back;
  });
};

const made = (text: string, changes: readonly TextChange[]): string =>
  changes.reduceRight((t, { from, to, insert }) => t.slice(0, from) + insert + t.slice(to), text);

/** Which keys of a note an edit may change. */
const TOUCHED: Readonly<Record<NoteEdit['kind'], readonly string[]>> = {
  finger: ['fingers'],
  bow: ['bow'],
  sign: ['signs'],
  graces: ['graces'],
  chord: [],
  slur: ['slurs'],
  step: ['pitches'],
  octave: ['pitches'],
  pitch: ['pitches'],
  length: ['length'],
};

/** What every note and everything else says, with what the edit is about left out at the notes that it is about. */
const restOf = (score: Score, edit: NoteEdit): string => {
  const addresses: readonly Address[] =
    edit.kind === 'slur' ? [] : Array.isArray(edit.at) ? edit.at : [edit.at as Address];
  const inBar = new Set(addresses.map(({ part, bar }) => `${part}/${bar}`));
  const keys = new Set(addresses.map(addressKey));
  const isTied = edit.kind === 'step' || edit.kind === 'octave';
  const chain = new Set<number>();
  const notes = notesOf(score);
  notes.forEach(({ address }, i) => {
    if (!keys.has(addressKey(address))) return;
    chain.add(i);
    for (let k = i; isTied && notes[k]?.note.tiedToNext === true; k += 1) chain.add(k + 1);
    for (let k = i - 1; isTied && notes[k]?.note.tiedToNext === true; k -= 1) chain.add(k);
  });
  const touched = TOUCHED[edit.kind];
  const said = notes.map(({ note }, i) => {
    const open = edit.kind === 'slur' || edit.kind === 'length' || chain.has(i);
    return JSON.stringify(note, (key, value: unknown) => (open && touched.includes(key) ? null : value));
  });
  const frame = JSON.stringify(score, (key, value: unknown) =>
    key === 'events' || (edit.kind === 'length' && key === 'onset') ? null : value,
  );
  const bars = barsOf(score).map(({ bar, part, index }) =>
    edit.kind === 'chord' && inBar.has(`${part}/${index}`)
      ? bar.chords.filter((c) => addresses.every((a) => formatRational(a.onset) !== formatRational(c.onset)))
      : [],
  );
  return JSON.stringify([said, bars, edit.kind === 'chord' ? null : frame]);
};

const seriousCodes = (tune: ReadTune): readonly string[] =>
  tune.diagnostics
    .filter((d) => d.severity !== 'remark' && d.code !== 'below-the-fiddle')
    .map((d) => d.code)
    .sort();

/** Where on the staff a note stands; of a chord the sum of all tones, so that their order is no matter. */
const melodyAt = (tune: ReadTune, at: Address | undefined): number => {
  const found = notesOf(tune.score).find(
    ({ address }) => at !== undefined && addressKey(address) === addressKey(at),
  );
  return (found?.note.pitches ?? []).reduce((total, p) => total + staffStepOf(p), 0);
};

interface Tally {
  made: number;
  unchanged: number;
  undone: number;
  readonly refused: Map<string, number>;
}

const tally = (): Tally => ({ made: 0, unchanged: 0, undone: 0, refused: new Map() });

/** Holds one edit against the laws. */
const lawful = (text: string, random: Random, counts: Tally): void => {
  const [tune] = readAbc(text).tunes;
  if (tune === undefined || notesOf(tune.score).length === 0) return;
  const { edit, back } = someEdit(random, tune);
  const result = editedAbc(text, tune, edit);
  const said = `${JSON.stringify(edit)}\n${text}`;
  if (result.kind === 'problem') {
    const key = `${edit.kind}: ${result.message}`;
    counts.refused.set(key, (counts.refused.get(key) ?? 0) + 1);
    return;
  }
  if (result.change.length === 0) counts.unchanged += 1;
  else counts.made += 1;
  expect(made(text, result.change), said).toBe(result.text);
  expect(made(result.text, inverse(text, result.change)), said).toBe(text);
  const [after] = readAbc(result.text).tunes;
  if (after === undefined) throw new RangeError(said);
  const before = seriousCodes(tune);
  expect(
    seriousCodes(after).filter((code) => !before.includes(code)),
    said,
  ).toEqual([]);
  expect(restOf(after.score, edit), said).toBe(restOf(tune.score, edit));
  if (edit.kind === 'step' || edit.kind === 'octave') {
    const moved = edit.by * (edit.kind === 'step' ? 1 : 7);
    expect(melodyAt(after, edit.at[0]) - melodyAt(tune, edit.at[0]), said).toBe(moved);
  }
  if (edit.kind !== 'step' && edit.kind !== 'octave' && edit.kind !== 'length')
    expect(editedAbc(result.text, after, edit), said).toMatchObject({ kind: 'text', change: [] });
  if (back !== null) {
    expect(editedAbc(result.text, after, back), said).toMatchObject({ text });
    counts.undone += 1;
  }
};

const refusedOf = ({ refused }: Tally): number => [...refused.values()].reduce((a, b) => a + b, 0);

describe('an edit changes just what was asked, and goes back', () => {
  test('in generated tunes', () => {
    const counts = tally();
    fc.assert(
      fc.property(scoreArbitrary, fc.nat(2 ** 31), (score, seed) => {
        lawful(writeAbc(score), randomFrom(seed), counts);
      }),
      { seed: SEED, numRuns: 300 },
    );
    expect(counts.made).toBeGreaterThan(200);
    expect(counts.undone).toBeGreaterThan(40);
  });

  test.skipIf(skipped)('in tunes as they are printed', () => {
    const counts = tally();
    const random = randomFrom(SEED);
    const files = readdirSync(DATA, { recursive: true, encoding: 'utf8' }).filter((f) => f.endsWith('.abc'));
    const texts = files
      .flatMap((file) =>
        readFileSync(DATA + file, 'latin1')
          .split(/^(?=X:)/m)
          .slice(1),
      )
      .filter((_, i) => i % 4 === 0);
    expect(texts.length).toBeGreaterThan(200);
    for (const text of texts) lawful(text, random, counts);
    expect(counts.made).toBeGreaterThan(refusedOf(counts) * 3);
    expect(counts.undone).toBeGreaterThan(100);
  });
});
