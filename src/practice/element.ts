/** What an element is given: attributes, and what it answers to. Text is only ever set as text. */
export interface Given {
  readonly class?: string;
  readonly on?: Readonly<Record<string, (event: Event) => void>>;
  readonly attributes?: Readonly<Record<string, string>>;
}

type Child = Node | string;

/** An element with its attributes and children. */
export const make = <K extends keyof HTMLElementTagNameMap>(
  name: K,
  given: Given = {},
  ...children: readonly Child[]
): HTMLElementTagNameMap[K] => {
  const element = document.createElement(name);
  if (given.class !== undefined) element.className = given.class;
  for (const [key, value] of Object.entries(given.attributes ?? {})) element.setAttribute(key, value);
  for (const [event, act] of Object.entries(given.on ?? {})) element.addEventListener(event, act);
  element.append(...children);
  return element;
};

/** A word that can be touched. */
export const wordButton = (text: string, act: () => void, given: Given = {}): HTMLButtonElement =>
  make('button', { ...given, attributes: { type: 'button', ...given.attributes }, on: { click: act } }, text);

/** A choice with its word. */
export const tick = (
  text: string,
  act: (on: boolean) => void,
): { readonly element: HTMLElement; readonly set: (on: boolean) => void } => {
  const box = make('input', { attributes: { type: 'checkbox' } });
  box.addEventListener('change', () => act(box.checked));
  return {
    element: make('label', { class: 'tick' }, box, make('span', {}, text)),
    set: (on) => {
      box.checked = on;
    },
  };
};

/** One of several choices, of which one holds. */
export const oneOf = <T extends string>(
  name: string,
  choices: readonly { readonly value: T; readonly text: string; readonly more?: Node }[],
  act: (value: T) => void,
): { readonly elements: readonly HTMLElement[]; readonly set: (value: T) => void } => {
  const boxes = choices.map(({ value }) => {
    const box = make('input', { attributes: { type: 'radio', name, value } });
    box.addEventListener('change', () => act(value));
    return box;
  });
  return {
    elements: choices.map(({ text, more }, i) =>
      make(
        'div',
        { class: 'choice' },
        make('label', { class: 'tick' }, boxes[i] ?? '', make('span', {}, text)),
        ...(more === undefined ? [] : [more]),
      ),
    ),
    set: (value) => {
      for (const box of boxes) box.checked = box.value === value;
    },
  };
};

/** A bead on a line. */
export interface Slide {
  readonly element: HTMLElement;
  readonly input: HTMLInputElement;
  readonly set: (value: number, words: string) => void;
}

/** A bead that is slid along a line, with its name before and its value in words after it. */
export const slide = (
  name: string,
  range: { readonly least: number; readonly most: number; readonly step: number },
  act: (value: number) => void,
): Slide => {
  const input = make('input', {
    attributes: {
      type: 'range',
      min: String(range.least),
      max: String(range.most),
      step: String(range.step),
      'aria-label': name,
    },
  });
  const words = make('span', { class: 'value', attributes: { 'aria-hidden': 'true' } });
  input.addEventListener('input', () => act(Number(input.value)));
  return {
    element: make(
      'div',
      { class: 'slide' },
      make('span', { class: 'name', attributes: { 'aria-hidden': 'true' } }, name),
      input,
      words,
    ),
    input,
    set: (value, text) => {
      input.value = String(value);
      input.setAttribute('aria-valuetext', text);
      words.textContent = text;
    },
  };
};
