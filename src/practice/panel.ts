import type { Way } from '../player/index.ts';
import { make, oneOf, slide, tick, wordButton } from './element.ts';
import type { LessonParts } from './lessonParts.ts';
import { mapSections } from './maps.ts';
import { ornamentsGroup } from './ornaments.ts';
import { PERCENT, SIZES, type State, SWING } from './state.ts';
import type { ShownOrnament, Tune } from './tune.ts';
import type { Wording } from './words.ts';

/** What is a touch away: everything that is not on the first screen. */
export interface Panel {
  readonly element: HTMLElement;
  readonly show: (state: State) => void;
  /** Says how the sound is made. */
  readonly sayWay: (text: string) => void;
}

/** What the panel tells the page. */
export interface PanelEvents {
  readonly onChange: (change: Partial<State>) => void;
  readonly onLink: () => void;
  readonly onClose: () => void;
  readonly onOrnament: (chosen: ShownOrnament) => void;
}

interface Group {
  readonly element: HTMLElement;
  readonly show: (state: State) => void;
}

const section = (title: string, ...children: readonly (Node | string)[]): HTMLElement =>
  make('section', {}, make('h2', {}, title), ...children);

const TURN_LENGTHS = ['1', '2', '4'] as const;

const waysGroup = ({ data }: LessonParts, words: Wording, { onChange }: PanelEvents): Group => {
  const note = (text: string): HTMLElement => make('p', { class: 'quiet' }, text);
  const goal = slide(words.climbGoal, { ...PERCENT, step: 1 }, (value) => onChange({ goal: value }));
  const lengths = oneOf(
    'turn',
    TURN_LENGTHS.map((value) => ({ value, text: words.turnLength(Number(value)) })),
    (value) => onChange({ turnBars: Number(value) }),
  );
  const climbNote = note('');
  const othersNote = note('');
  const more: Readonly<Record<Way, HTMLElement>> = {
    through: make('div', {}, note(words.throughIs)),
    climb: make('div', {}, climbNote, goal.element),
    turns: make('div', {}, note(words.turnsIs), make('div', { class: 'row' }, ...lengths.elements)),
    others: make('div', {}, othersNote),
  };
  const choices = (
    ['through', 'climb', 'turns', ...(data.versions.length > 1 ? (['others'] as const) : [])] as const
  ).map((value) => ({ value, text: words[value], more: more[value] }));
  const ways = oneOf<Way>('way', choices, (way) => onChange({ way }));
  return {
    element: section(words.howToPractise, ...ways.elements),
    show: (state) => {
      ways.set(state.way);
      lengths.set(TURN_LENGTHS.find((t) => t === String(state.turnBars)) ?? '2');
      goal.set(state.goal, words.percent(state.goal));
      climbNote.textContent = words.climbIs(state.goal);
      const mine = data.versions.find((v) => v.id === state.versions[0])?.name ?? '';
      othersNote.textContent = words.othersIs(mine);
      for (const { value } of choices) more[value].hidden = value !== state.way;
    },
  };
};

const FULL = 1.4;

const heardGroup = ({ data }: LessonParts, words: Wording, { onChange }: PanelEvents): Group => {
  const fader = (name: string, key: 'fiddle' | 'backing' | 'click') =>
    slide(name, { least: 0, most: FULL, step: 0.02 }, (value) => onChange({ [key]: value }));
  const faders = {
    fiddle: fader(words.fiddle, 'fiddle'),
    backing: fader(words.backing, 'backing'),
    click: fader(words.click, 'click'),
  };
  const swing = slide(words.swing, { ...SWING, step: 0.05 }, (value) => onChange({ swing: value }));
  const asDance = wordButton(words.swingAsDance, () => onChange({ swing: null }), { class: 'word' });
  const countIn = tick(words.countIn, (on) => onChange({ countIn: on }));
  const { beat } = data.dance;
  // A dance whose beat is dotted has three running notes in it: they lilt, they do not swing.
  const swings = beat.num !== 3;
  return {
    element: section(
      words.heard,
      ...Object.values(faders).map((f) => f.element),
      ...(swings ? [swing.element, asDance] : []),
      countIn.element,
    ),
    show: (state) => {
      for (const key of ['fiddle', 'backing', 'click'] as const)
        faders[key].set(state[key], words.percent(Math.round(100 * state[key])));
      swing.set(state.swing ?? data.swing ?? data.dance.swing, words.swingIs(state.swing));
      asDance.hidden = state.swing === null;
      countIn.set(state.countIn);
    },
  };
};

const seenGroup = (words: Wording, { onChange }: PanelEvents, current: () => State): Group => {
  const row = (name: string, key: keyof State['rows']) =>
    tick(name, (on) => onChange({ rows: { ...current().rows, [key]: on } }));
  const rows = {
    chords: row(words.chords, 'chords'),
    bows: row(words.bows, 'bows'),
    fingers: row(words.fingers, 'fingers'),
    stays: row(words.stays, 'stays'),
    names: row(words.names, 'names'),
  };
  const notes = tick(words.barNotes, (on) => onChange({ barNotes: on }));
  const resize = (factor: number): void => {
    const size = Math.min(SIZES.most, Math.max(SIZES.least, current().size * factor));
    onChange({ size });
  };
  return {
    element: section(
      words.seen,
      ...Object.values(rows).map((r) => r.element),
      notes.element,
      make(
        'div',
        { class: 'row' },
        wordButton(words.smaller, () => resize(1 / SIZES.step), { class: 'word' }),
        wordButton(words.larger, () => resize(SIZES.step), { class: 'word' }),
      ),
    ),
    show: (state) => {
      for (const key of ['chords', 'bows', 'fingers', 'stays', 'names'] as const)
        rows[key].set(state.rows[key]);
      notes.set(state.barNotes);
    },
  };
};

const togetherGroup = ({ data }: LessonParts, words: Wording, { onChange }: PanelEvents): Group | null => {
  const pairs = data.versions.slice(1).map((fuller, i) => [data.versions[i] ?? fuller, fuller] as const);
  if (pairs.length === 0) return null;
  const buttons = pairs.map(([one, other]) =>
    wordButton(words.both(one.name, other.name), () => onChange({ versions: [one.id, other.id] }), {
      class: 'word',
    }),
  );
  return {
    element: section(words.together, make('div', { class: 'column' }, ...buttons)),
    show: (state) =>
      pairs.forEach(([one, other], i) => {
        const on = state.versions.join() === [one.id, other.id].join();
        buttons[i]?.setAttribute('aria-pressed', String(on));
      }),
  };
};

/** Paragraphs of a text, parted by blank lines. */
const paragraphs = (text: string): readonly HTMLElement[] =>
  text
    .split(/\r?\n\s*\r?\n/)
    .filter((p) => p.trim() !== '')
    .map((p) => make('p', {}, p.trim()));

const aboutGroup = (parts: LessonParts, words: Wording, changed: boolean) => {
  const { data, licences } = parts;
  const way = make('p', { class: 'quiet' });
  const said = [
    data.otherTitles.length === 0 ? '' : words.also(data.otherTitles.join(', ')),
    words.tuneBy(data.credit),
    data.source === '' ? '' : words.setting(data.source),
    data.teacher === '' ? '' : words.taughtBy(data.teacher),
    words.madeOn(data.date),
    changed ? words.changed : '',
  ].filter((s) => s !== '');
  const element = section(
    words.about,
    ...paragraphs(data.story),
    make('p', {}, said.join(' ')),
    make('p', { class: 'quiet' }, data.rights),
    make('p', { class: 'quiet' }, words.keys),
    way,
    make(
      'details',
      {},
      make('summary', {}, words.licences),
      ...licences.flatMap(paragraphs).map((p) => {
        p.className = 'quiet';
        return p;
      }),
    ),
  );
  return { element, way };
};

/** Builds the panel. */
export const panelOf = (
  parts: LessonParts,
  words: Wording,
  events: PanelEvents,
  {
    tune,
    current,
    changed,
  }: { readonly tune: Tune; readonly current: () => State; readonly changed: boolean },
): Panel => {
  const about = aboutGroup(parts, words, changed);
  const together = togetherGroup(parts, words, events);
  const hasOrnaments = parts.data.versions.some((v) => v.ornaments.length > 0);
  const groups = [
    waysGroup(parts, words, events),
    heardGroup(parts, words, events),
    seenGroup(words, events, current),
    ...(together === null ? [] : [together]),
    ...(hasOrnaments
      ? [ornamentsGroup({ data: parts.data, words, tune, onOrnament: events.onOrnament })]
      : []),
  ];
  const link = make(
    'section',
    {},
    wordButton(words.link, events.onLink, { class: 'word', attributes: { id: 'link' } }),
  );
  const element = make(
    'aside',
    { class: 'panel', attributes: { id: 'panel', 'aria-label': words.more, tabindex: '-1' } },
    wordButton(words.close, events.onClose, { class: 'word close' }),
    ...groups.map((g) => g.element),
    ...mapSections(parts.data.maps, words),
    link,
    about.element,
  );
  element.hidden = true;
  return {
    element,
    show: (state) => {
      for (const group of groups) group.show(state);
    },
    sayWay: (text) => {
      about.way.textContent = text;
    },
  };
};
