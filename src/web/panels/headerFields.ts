/** The lines before the key, which ends a header. */
const headerOf = (abc: string): string => abc.slice(0, /^K:/m.exec(abc)?.index ?? abc.length);

/** The first line of a field in the tune's header: where it stands, and what it says. */
const lineOf = (
  abc: string,
  code: string,
): { readonly from: number; readonly to: number; readonly text: string } | null => {
  const found = new RegExp(`^${code}:([^\\n\\r]*)`, 'm').exec(headerOf(abc));
  if (found === null) return null;
  const from = found.index + 2;
  return { from, to: from + (found[1]?.length ?? 0), text: found[1] ?? '' };
};

/** What the first line of a header field says; empty where there is none. */
export const fieldIn = (abc: string, code: string): string => lineOf(abc, code)?.text.trimStart() ?? '';

/**
 * The text with a header field saying something else; a new line behind the titles where there was none, and no line where
 * it says nothing any more (but for the title, which stays).
 */
export const withFieldIn = (abc: string, code: string, value: string): string => {
  const words = value.replace(/[\r\n]+/g, ' ');
  const line = lineOf(abc, code);
  if (line !== null && (words !== '' || code === 'T'))
    return abc.slice(0, line.from) + words + abc.slice(line.to);
  if (line !== null) {
    const end = /\r?\n/.exec(abc.slice(line.to));
    const next = end === null ? abc.length : line.to + end.index + end[0].length;
    return abc.slice(0, line.from - 2) + abc.slice(next);
  }
  if (words === '') return abc;
  const titles = [...headerOf(abc).matchAll(/^(?:X|T):[^\n]*\n/gm)];
  const last = titles.at(-1);
  const at = last === undefined ? 0 : last.index + last[0].length;
  return `${abc.slice(0, at)}${code}:${words}\n${abc.slice(at)}`;
};
