import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { add, compare, equals, formatRational, rational } from '../../core/index.ts';
import { danceOfScore, ornamentsOf, runningUnitOf } from '../../fiddle/index.ts';
import { chordChromas, chromaOf, isSamePitch, midiOf, staffStepOf } from '../../music/index.ts';
import { readAbc, writeAbc } from '../../notation/index.ts';
import {
  addressKey,
  barsOf,
  fingerprintOf,
  type Note,
  notesOf,
  placedEvents,
  type Score,
} from '../../score/index.ts';
import { plainOf } from '../plain.ts';
import type { OrnamentSuggestion, Reason, SuggestionSettings } from './suggestion.ts';
import { suggestOrnaments } from './suggestOrnaments.ts';
import { withOrnaments } from './withOrnaments.ts';

const scoreOf = (body: string, head = 'R:reel\nM:4/4\nK:G'): Score => {
  const [tune] = readAbc(`X:1\nL:1/8\n${head}\n${body}\n`).tunes;
  if (tune === undefined) throw new Error(`no tune in ${body}`);
  return tune.score;
};

const suggest = (score: Score, settings?: SuggestionSettings): readonly OrnamentSuggestion[] =>
  suggestOrnaments({ plain: plainOf(score), full: score }, settings);

const told = (s: OrnamentSuggestion): string =>
  `${s.address.part}${s.address.bar}@${formatRational(s.address.onset)} ${s.kind}`;

/** A reel of the demo's kind, without an ornament. */
const REEL = scoreOf('|:G3B d2Bd|efge dBAB|G3B dBBA|GEED E2DE|G3B d2Bd|efge d2Bd|e2dB cAFA|BGAF G4:|');

describe('what is suggested', () => {
  test('for a plain reel', () => {
    expect(suggest(REEL).map(told)).toEqual([
      'A0@0 longRoll',
      'A2@0 longRoll',
      'A3@1/4 cut',
      'A4@0 longRoll',
      'A6@0 treble',
      'A7@1/2 drone',
    ]);
  });
  test('few, usual and many are three, six and eight in eight bars at most', () => {
    const numbers = (['few', 'usual', 'many'] as const).map((density) => suggest(REEL, { density }).length);
    expect(numbers).toEqual([3, 6, 8]);
  });
  test('only the kinds that were asked for', () => {
    const kinds = suggest(REEL, { kinds: ['cut'] }).map((s) => s.kind);
    expect(new Set(kinds)).toEqual(new Set(['cut']));
  });
  test('a bar that comes again has the same, or another on request', () => {
    const again = suggest(REEL).filter((s) => s.address.bar === 0 || s.address.bar === 4);
    expect(again.map((s) => s.kind)).toEqual(['longRoll', 'longRoll']);
    const varied = suggest(REEL, { secondTime: 'varied' }).filter((s) => s.address.bar === 4);
    expect(varied).toHaveLength(1);
    expect(varied[0]?.kind).not.toBe('longRoll');
    expect(varied[0]?.reasons.at(-1)).toEqual({ kind: 'varied', from: 'longRoll' });
  });
  test('a written ornament counts, and its bar is left alone', () => {
    const written = scoreOf(
      '|:G3B d2Bd|efge d{c}BAB|G3B dBBA|GEED E2DE|~G3B d2Bd|efge d2Bd|e2dB cAFA|BGAF G4:|',
    );
    const bars = suggest(written).map((s) => s.address.bar);
    expect(bars).not.toContain(1);
    expect(bars).not.toContain(4);
    expect(bars.length).toBeLessThanOrEqual(4);
  });
  test('on an open string no roll, but a treble, two cuts or a unison', () => {
    const open = scoreOf('|:A2BA d2BA|e2dB A2GA|A2cA e2cA|d2BA A4:|');
    const onOpen = suggest(open, { density: 'many' }).filter((s) => s.finger === 0 || s.kind === 'unison');
    expect(onOpen.length).toBeGreaterThan(0);
    for (const s of onOpen) expect(['cut', 'treble', 'doubleGrace', 'unison', 'drone']).toContain(s.kind);
  });
  test('a tune of nothing but running notes off its beats has only what is possible', () =>
    expect(suggest(scoreOf('z8|z8|]'))).toEqual([]));
});

test('a triplet that would turn quavers and semiquavers round is not suggested', () => {
  const tune = scoreOf(
    'A2D2 F2A2|A2B2 A2F2|ABAF E2F2|A2F2 D4|A2D2 F2A2|ABcB ABAF|EFGE F2A2|E2D2 D4|]',
    'R:march\nM:2/4\nL:1/16\nK:D',
  );
  const kinds = suggest(tune, { density: 'many' }).map((s) => s.kind);
  const { score } = withOrnaments(
    tune,
    tune,
    suggest(tune, { density: 'many' }).map((s) => ({ ...s.address, kind: s.kind })),
  );
  expect(kinds.length).toBeGreaterThan(0);
  expect(ornamentsOf(score).map((o) => o.kind)).toEqual(kinds);
});

describe('accepted ornaments', () => {
  test.each<readonly [string, string, Parameters<typeof withOrnaments>[2][number]['kind'], string, string]>([
    ['a cut', 'B2d2 g4|]', 'cut', '0', '{c}B2d2 g4 |]'],
    ['a cut under a slur', '(Bd)g2 g4|]', 'cut', '0', '({c}Bd)g2 g4 |]'],
    ['two cuts', 'A2d2 g4|]', 'doubleGrace', '0', '{cB}A2d2 g4 |]'],
    ['a short roll', 'B2d2 g4|]', 'shortRoll', '0', '~B2d2 g4 |]'],
    ['a long roll', 'B3d g4|]', 'longRoll', '0', '~B3d g4 |]'],
    ['a long roll in place of three', 'BABd g4|]', 'longRoll', '0', '~B3 d g4 |]'],
    ['a treble', 'B2d2 g4|]', 'treble', '0', '(3BBB d2 g4 |]'],
    ['a run-triplet', 'Bdgd g4|]', 'runTriplet', '0', '(3(Bc)d gd g4 |]'],
    ['a slide', 'B2d2 g4|]', 'slide', '0', '!slide!B2d2 g4 |]'],
    ['a drone', 'd2B2 g4|]', 'drone', '0', '[dD]2B2 g4 |]'],
    ['a unison', 'A2B2 g4|]', 'unison', '0', '[AA]2B2 g4 |]'],
  ])('%s', (_, body, kind, onset, expected) => {
    const score = scoreOf(body);
    const accepted = { part: 'A', bar: 0, onset: rational(...onsetOf(onset)) as never, kind };
    const { score: full, left } = withOrnaments(score, plainOf(score), [accepted]);
    expect(left).toEqual([]);
    expect(writeAbc(full).trimEnd().split('\n').at(-1)).toBe(expected);
  });
  test('what has lost its note, is impossible or taken is left and told', () => {
    const score = scoreOf('{c}B2d2 A4|]');
    const at = (num: number, kind: 'cut' | 'shortRoll') =>
      ({ part: 'A', bar: 0, onset: rational(num, 8) as never, kind }) as const;
    const accepted = [at(0, 'cut'), at(1, 'cut'), at(4, 'shortRoll'), at(2, 'cut'), at(2, 'shortRoll')];
    const { score: full, left } = withOrnaments(score, plainOf(score), accepted);
    expect(left).toEqual([accepted[0], accepted[1], accepted[2], accepted[4]]);
    expect(ornamentsOf(full).map((o) => o.kind)).toEqual(['cut', 'cut']);
  });
  test('a chord over the inside of a group is not lost', () => {
    const score = scoreOf('B"D"ABd g4|]');
    const accepted = { part: 'A', bar: 0, onset: rational(0) as never, kind: 'longRoll' } as const;
    expect(withOrnaments(score, plainOf(score), [accepted]).left).toEqual([accepted]);
  });
});

const onsetOf = (text: string): [number, number] => {
  const [num, den] = text.split('/').map(Number);
  return [num ?? 0, den ?? 1];
};

const CORPORA = new URL('../../../../shared/data/corpora/', import.meta.url);
/** Every so many tunes of the shared books. */
const EVERY = 60;

const sampled = (): readonly Score[] =>
  readdirSync(CORPORA, { recursive: true, encoding: 'utf8' })
    .filter((name) => name.endsWith('.abc'))
    .flatMap((name) => readAbc(readFileSync(new URL(name, CORPORA), 'utf8')).tunes)
    .filter((_, i) => i % EVERY === 0)
    .map((t) => t.score)
    .filter((score) => notesOf(score).length > 0);

/** The notes that a suggestion takes up, and the one before. */
interface Around {
  readonly notes: readonly Note[];
  readonly before: Note | null;
}

const around = (plain: Score, s: OrnamentSuggestion): Around => {
  const events = barsOf(plain).flatMap(({ bar, part, index }) =>
    placedEvents(bar).map(({ event, onset }) => ({ event, key: addressKey({ part, bar: index, onset }) })),
  );
  const at = events.findIndex((e) => e.key === addressKey(s.address));
  const before = events[at - 1]?.event;
  return {
    notes: events.slice(at, at + s.events).flatMap(({ event }) => (event.kind === 'note' ? [event] : [])),
    before: before?.kind === 'note' ? before : null,
  };
};

/** Whether a reason is true, looked up in the tune anew. */
const isTrue = (
  reason: Reason,
  s: OrnamentSuggestion,
  plain: Score,
  all: readonly OrnamentSuggestion[],
): boolean => {
  const { notes, before } = around(plain, s);
  const [first, second] = notes;
  if (first === undefined) return false;
  const [pitch] = first.pitches;
  const bar = plain.parts.find((p) => p.label === s.address.part)?.bars[s.address.bar];
  const dance = danceOfScore(plain);
  const beats = s.address.onset.num / s.address.onset.den / (dance.beat.num / dance.beat.den);
  switch (reason.kind) {
    case 'partsEqual':
      return before !== null && midiOf(before.pitches[0]) === midiOf(pitch);
    case 'accent':
      if (reason.accent === 'bar') return s.address.onset.num === 0;
      return reason.accent === 'beat'
        ? Number.isInteger(beats) && s.beat === beats + 1
        : !Number.isInteger(beats) && s.beat === Math.floor(beats) + 1;
    case 'length':
      return equals(first.length, reason.length);
    case 'noteXNote':
      return (
        notes.length === 3 &&
        notes.every((n) => Math.abs(staffStepOf(n.pitches[0]) - staffStepOf(pitch)) <= 1)
      );
    case 'fillsThird':
      return second !== undefined && Math.abs(staffStepOf(second.pitches[0]) - staffStepOf(pitch)) === 2;
    case 'openString':
      return { G: 55, D: 62, A: 69, E: 76 }[reason.string] === midiOf(pitch);
    case 'easyFinger':
      return s.finger === reason.finger && reason.finger <= 1;
    case 'rings': {
      const [tone] = s.others;
      if (tone === undefined || s.beside !== reason.string) return false;
      const chroma = chromaOf(tone);
      return reason.asRoot
        ? chromaOf(reason.chord.root) === chroma
        : chordChromas(reason.chord).includes(chroma);
    }
    case 'chordTone':
      return chordChromas(reason.chord).includes(chromaOf(pitch));
    case 'lastNote': {
      const last = notesOf(plain).findLast((n) => n.address.part === s.address.part);
      return last !== undefined && addressKey(last.address) === addressKey(s.address);
    }
    case 'comesAgain': {
      const alike = all.filter((o) => {
        const there = plain.parts.find((p) => p.label === o.address.part)?.bars[o.address.bar];
        const same = bar !== undefined && there !== undefined && fingerprintOf(there) === fingerprintOf(bar);
        return same && o.kind === s.kind && equals(o.address.onset, s.address.onset);
      });
      return alike.length === reason.times;
    }
    case 'varied':
      return s.kind !== reason.from;
    default:
      return reason satisfies never;
  }
};

describe.skipIf(!existsSync(CORPORA))('over the shared books', () => {
  const tunes = existsSync(CORPORA) ? sampled() : [];
  const settings: readonly SuggestionSettings[] = [{}, { density: 'many', secondTime: 'varied' }];
  const cases = tunes.flatMap((score) =>
    settings.map((s) => ({ plain: plainOf(score), full: score, settings: s })),
  );

  test('there is enough to suggest', () => {
    const total = cases.reduce((sum, c) => sum + suggestOrnaments(c, c.settings).length, 0);
    expect(total / cases.length).toBeGreaterThan(3);
  });
  test('at most one a bar, none on neighbouring notes or on notes shorter than the running note', () => {
    for (const { plain, full, settings: asked } of cases) {
      const found = suggestOrnaments({ plain, full }, asked);
      const bars = found.map((s) => `${s.address.part}/${s.address.bar}`);
      expect(new Set(bars).size).toBe(bars.length);
      const running = runningUnitOf(danceOfScore(plain), plain.metre);
      found.forEach((s, i) => {
        expect(compare(around(plain, s).notes[0]?.length ?? rational(0), running)).toBeGreaterThanOrEqual(0);
        const before = found[i - 1];
        if (before !== undefined) expect(s.index - (before.index + before.events - 1)).toBeGreaterThan(1);
      });
      for (const part of plain.parts) {
        const full8 = part.bars.filter((b) => b.role === 'full').length;
        const own = found.filter((s) => s.address.part === part.label).length;
        expect(own).toBeLessThanOrEqual(Math.round(full8 * (asked.density === 'many' ? 1 : 0.75)));
      }
    }
  });
  test('every reason is true', () => {
    let told = 0;
    for (const { plain, full, settings: asked } of cases) {
      const found = suggestOrnaments({ plain, full }, asked);
      for (const s of found) {
        expect(s.reasons.length).toBeGreaterThan(0);
        for (const reason of s.reasons) {
          expect([reason, isTrue(reason, s, plain, found)]).toEqual([reason, true]);
          told += 1;
        }
      }
    }
    expect(told).toBeGreaterThan(300);
  });
  test('law: accepted, written and read again, each is known by its name, and bars keep their length', () => {
    for (const { plain, settings: asked } of cases) {
      const found = suggestOrnaments({ plain, full: plain }, asked);
      const accepted = found.map((s) => ({ ...s.address, kind: s.kind }));
      const { score, left } = withOrnaments(plain, plain, accepted);
      const [again] = readAbc(writeAbc(score)).tunes;
      if (again === undefined) throw new Error('not read again');
      const before = new Set(ornamentsOf(plain).map((o) => `${addressKey(o.address)} ${o.kind}`));
      const names = ornamentsOf(again.score)
        .map((o) => ({
          ...o,
          key: addressKey({ part: o.address.part, bar: o.address.bar, onset: o.address.onset }),
        }))
        .filter((o) => !before.has(`${addressKey(o.address)} ${o.kind}`))
        .map((o) => `${o.key} ${o.kind}`);
      const put = accepted.filter((a) => !left.includes(a));
      expect(names).toEqual(put.map((a) => `${addressKey(a)} ${a.kind}`));
      expect(barsOf(again.score).map(({ bar }) => totalOf(bar.events))).toEqual(
        barsOf(plain).map(({ bar }) => totalOf(bar.events)),
      );
    }
  });
  test('law: what adds to a note and takes none is gone again in the plain version', () => {
    for (const { plain, settings: asked } of cases) {
      const found = suggestOrnaments({ plain, full: plain }, asked).filter(
        (s) => s.events === 1 || s.kind === 'runTriplet',
      );
      const { score } = withOrnaments(
        plain,
        plain,
        found.map((s) => ({ ...s.address, kind: s.kind })),
      );
      const pitches = (tune: Score) => notesOf(tune).map(({ note }) => note.pitches[0]);
      const [now, was] = [pitches(plainOf(score)), pitches(plain)];
      expect(now.length).toBe(was.length);
      expect(now.every((p, i) => isSamePitch(p, was[i] ?? p))).toBe(true);
    }
  });
});

const totalOf = (
  events: readonly { readonly length: { readonly num: number; readonly den: number } }[],
): string => formatRational(events.reduce((sum, e) => add(sum, e.length), rational(0)));
