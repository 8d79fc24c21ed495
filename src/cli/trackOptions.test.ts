import { describe, expect, test } from 'vitest';
import { DEFAULT_SETTINGS } from '../lesson/index.ts';
import { UsageError } from './io.ts';
import { type TrackValues, withTrackOptions } from './trackOptions.ts';

const STORED = { ...DEFAULT_SETTINGS, date: '2026-01-31' };
const settings = (values: TrackValues) => withTrackOptions(STORED, values, (path) => `/home/${path}`);

describe('--add', () => {
  test.each([
    ['full', [{ version: 'full' }]],
    ['plain, at 62, bare', [{ version: 'plain', tempo: 62, backing: false }]],
    [
      'full at 60,72',
      [
        { version: 'full', tempo: 60 },
        { version: 'full', tempo: 72 },
      ],
    ],
    [
      'bonesFuller bars 5-8 climb 90 click times 12',
      [{ version: 'bonesFuller', bars: '5-8', climbTo: 90, click: true, times: 12 }],
    ],
    ['plain echo', [{ version: 'plain', echo: 2 }]],
    ['echo 4 at learn', [{ echo: 4, tempo: 'learn' }]],
    ['backing climb speed', [{ version: 'none', climbTo: 'upToSpeed' }]],
  ])('"%s"', (text, tracks) => {
    expect(settings({ add: [text] }).tracks).toEqual(tracks);
  });
  test.each([
    ['', /say which track/],
    ['full loud', /"loud" is not known here; there are bones, plain, full, backing, at/],
    ['full at 5', /10 to 400 beats a minute.*not "5"/],
    ['full climb', /not ""/],
    ['full times 0', /from 1 to 99/],
    ['echo 40', /from 1 to 16/],
  ])('"%s" is refused', (text, message) => {
    expect(() => settings({ add: [text] })).toThrow(message);
    expect(() => settings({ add: [text] })).toThrow(UsageError);
  });
  test('comes on top of what lesson.json asks for', () => {
    const stored = { ...STORED, tracks: [{ tempo: 50 }] };
    expect(withTrackOptions(stored, { add: ['full'] }, String).tracks).toHaveLength(2);
  });
});

test('--own names a file, and perhaps the track whose place it takes', () => {
  expect(settings({ own: ['4=a.wav', 'b.wav'] }).recordings).toEqual([
    { file: '/home/a.wav', track: 4 },
    { file: '/home/b.wav' },
  ]);
});

test.each<readonly [TrackValues, object]>([
  [{ format: 'flac, mp3' }, { formats: ['flac', 'mp3'] }],
  [{ backing: 'piano,drum' }, { band: { players: ['piano', 'drum'], pattern: 'usual' } }],
  [{ pattern: 'other' }, { band: { players: ['guitar', 'bass'], pattern: 'other' } }],
  [{ swing: 'straight' }, { swing: 1 }],
  [{ swing: 'strong' }, { swing: 1.6 }],
  [{ swing: 'usual' }, { swing: null }],
  [{ swing: '1.3' }, { swing: 1.3 }],
  [{ exact: true, vibrato: true }, { fiddle: { variation: false, vibrato: true } }],
  [{ click: true }, { click: true }],
])('%j', (values, wanted) => {
  expect(settings(values)).toMatchObject(wanted);
});

test.each<readonly [TrackValues, RegExp]>([
  [{ format: 'ogg' }, /--format takes some of mp3,flac,wav, not "ogg"/],
  [{ backing: '' }, /--backing takes some of guitar,piano,bass,drum/],
  [{ swing: '9' }, /--swing takes straight, light, usual, strong or a number/],
])('%j is refused', (values, message) => {
  expect(() => settings(values)).toThrow(message);
});
