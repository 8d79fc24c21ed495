import type { Diagnostic, Severity, Span } from '../../core/index.ts';
import { MOST_PROBLEMS } from './limits.ts';

/** One kind of problem: how bad, and what to do about it. */
interface ProblemKind {
  readonly severity: Severity;
  readonly hint?: string;
}

const error = (hint?: string): ProblemKind => ({
  severity: 'error',
  ...(hint === undefined ? {} : { hint }),
});
const warning = (hint?: string): ProblemKind => ({ ...error(hint), severity: 'warning' });
const remark = (hint?: string): ProblemKind => ({ ...error(hint), severity: 'remark' });

/** Every code that reading ABC can give, its severity and its remedy. */
export const PROBLEM_KINDS = {
  'text-too-long': error('Split the tune book into several files.'),
  'no-tune': error(
    'A tune starts with a line X:1, then T: (title), M: (metre), L: (note length), K: (key) and the music.',
  ),
  'number-missing': warning('Write a number behind X:, as in X:1.'),
  'number-repeated': remark(),
  'title-missing': warning('Write the title in a line T: behind X:.'),
  'key-missing': error('End the header with the key, as in K:G or K:Ador.'),
  'key-unreadable': error('Write the keynote and the mode, as in K:D, K:Em, K:Amix, K:Ador.'),
  'key-beyond-seven': error('Choose the key of the same sound with fewer sharps or flats.'),
  'mode-unknown': warning('Modes are maj, m, mix, dor, phr, lyd, loc; their first three letters count.'),
  'key-words-unread': remark(),
  'clef-or-transposition-ignored': remark(
    'The fiddle reads the treble clef; write the tune at the pitch at which it is played.',
  ),
  'metre-unreadable': error('Write it as M:6/8, M:C, M:C| or M:none.'),
  'unit-unreadable': error('Write it as L:1/8 or L:1/16.'),
  'tempo-unreadable': warning('Write it as Q:1/4=120, or Q:"Lively" 1/2=100.'),
  'tempo-without-note': remark('Say which note is counted, as in Q:1/4=120.'),
  'part-order-unread': remark(
    'Name parts by one capital letter in the music (P:A, P:B …), and their order in the header (P:AABB).',
  ),
  'field-misplaced': warning('Write it on a line of its own, where it belongs.'),
  'user-symbol-unreadable': warning(
    'Write it as U:T = !trill!; letters from H to W and h to w, and ~, can be given.',
  ),
  'macro-unreadable': warning('Write it as m:~G2 = {A}G{F}G.'),
  'macro-too-long': error('Make the macro shorter.'),
  'other-voice': remark(
    'The first voice is the tune. Move the wanted voice to the first place, or give it a tune of its own.',
  ),
  'overlay-ignored': remark('What sounds beside the melody can be written as a chord, as in [DA].'),
  'sign-unknown': warning('Take it out, or put text in double quotes.'),
  'letter-without-meaning': remark('Say what it means in the header, as in U:R = !roll!.'),
  'quote-unclosed': error('Close the text with a double quote.'),
  'field-unclosed': error('Close it with ].'),
  'chord-unclosed': error('Close the notes that sound together with ].'),
  'chord-unopened': warning('Take the ] out.'),
  'chord-empty': warning('Write the notes between [ and ], or take the brackets out.'),
  'chord-unexpected-sign': warning('Between [ and ] stand only notes.'),
  'grace-unclosed': error('Close the grace notes with }.'),
  'grace-unopened': warning('Take the } out.'),
  'grace-unexpected-sign': warning('Between { and } stand only notes.'),
  'grace-chord': remark(),
  'grace-without-note': warning('Grace notes stand before the note that they lead into.'),
  'chord-symbol-unknown': remark('Words above the staff are written "^like this".'),
  'slur-unclosed': warning('Close the slur with ) behind its last note.'),
  'slur-unopened': warning('Open the slur with ( before its first note.'),
  'tie-as-slur': remark('Slurs are written (AB); a tie A-A joins two notes of one pitch.'),
  'tie-leads-nowhere': warning('A tie stands behind a note and leads to the same note; take the - out.'),
  'broken-rhythm-alone': warning('Broken rhythm stands between two notes, as in A>B.'),
  'broken-rhythm-unequal': remark(
    'Broken rhythm is meant for two notes written alike; numbers say other lengths exactly.',
  ),
  'tuplet-incomplete': warning('Add the missing notes, or say how many there are: (3:2:2.'),
  'tuplet-absurd': error(`A tuplet has 2 to 32 notes.`),
  'length-absurd': error('Write a length as A2, A/2 or A3/2.'),
  'pitch-absurd': error('Take some of the octave marks out.'),
  'microtone-rounded': remark(),
  'bar-rest-absurd': error(),
  'bar-line-odd': remark('Bar lines are | || |] |: :| ::.'),
  'ending-unreadable': warning('Endings are written [1 and [2, or [1,3.'),
  'bar-too-long': warning('Check the lengths, or whether a bar line is missing.'),
  'bar-too-short': warning('Check the lengths, or whether a note is missing.'),
  'unit-doubtful': warning(),
  'last-bar-full-with-pickup': warning(),
  'below-the-fiddle': warning('Put the tune, or these notes, an octave up.'),
  'above-first-position': remark('These notes need a shift or a stretch.'),
  'too-many-bars': error('Split the text into several tunes.'),
  'no-music': error('Write the music on the lines behind K:.'),
  'lyrics-left-over': remark(),
  'lyrics-without-music': warning('A line w: stands below the line of music that it belongs to.'),
  'more-problems': remark(),
} as const satisfies Readonly<Record<string, ProblemKind>>;

/** A code of `PROBLEM_KINDS`. */
export type ProblemCode = keyof typeof PROBLEM_KINDS;

/** Collects the problems of one tune. Mutable: one a tune read. */
export interface Problems {
  /** Notes a problem; `hint` replaces the usual remedy. */
  readonly add: (code: ProblemCode, message: string, span: Span, hint?: string) => void;
  /** All of them in order of place. */
  readonly list: () => readonly Diagnostic[];
}

/** Starts an empty list of problems; past `MOST_PROBLEMS` they are only counted. */
export const problemList = (): Problems => {
  const found: Diagnostic[] = [];
  let more = 0;
  let errors = 0;
  return {
    add: (code, message, span, hint) => {
      const kind: ProblemKind = PROBLEM_KINDS[code];
      // A flood of warnings must not hide an error.
      const listed = kind.severity === 'error' ? errors : found.length - errors;
      if (listed >= MOST_PROBLEMS) {
        more += 1;
        return;
      }
      if (kind.severity === 'error') errors += 1;
      const remedy = hint ?? kind.hint;
      found.push({
        code,
        severity: kind.severity,
        message,
        span: { start: span.start, end: span.end },
        ...(remedy === undefined ? {} : { hint: remedy }),
      });
    },
    list: () => {
      const sorted = found.toSorted((a, b) => (a.span?.start ?? 0) - (b.span?.start ?? 0));
      if (more === 0) return sorted;
      const rest: Diagnostic = {
        code: 'more-problems',
        severity: 'remark',
        message: `${more} more problems in this tune are not listed; the limit is ${MOST_PROBLEMS}.`,
      };
      return [...sorted, rest];
    },
  };
};
