// Remakes docs/workbench/*.png from the demo lessons: `node scripts/workbenchPictures.mjs`.
// Needs `npm run build` before, and Debian's chromium. Look at the pictures before they are kept; docs/workbench.md speaks of each.
import { spawn } from 'node:child_process';
import { mkdirSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { chromium } from 'playwright-core';
import { ROOT } from './setup/places.mjs';

const FOLDER = join(ROOT, 'docs', 'workbench');
const TUNE = `X:1
T:The Kettle Lid
C:Wren Aldercott
R:reel
M:4/4
L:1/8
K:Ador
|:eA ~A2 BAGB|A2 AB c2 Bc|dBGB dBGB|dedB GABd|
eA ~A2 BAGB|A2 AB cBcd|eage dBGB|1 cABG A2 Bd:|2 cABG A2 ed||
|:e2 ea gedB|{a}g2 ga gedg|e2 ea gedB|d2 (3Bcd efge|
agea gedB|{a}g2 ga gedg|eage dBGB|1 cABG A2 ed:|2 cABG A4|]
`;

/** The workbench in a home of its own. */
const started = (home) =>
  new Promise((resolve) => {
    const program = spawn(process.execPath, [join(ROOT, 'bin/tuneladder.mjs'), 'open', '--no-browser'], {
      env: { ...process.env, HOME: home },
    });
    let said = '';
    program.stdout.setEncoding('utf8').on('data', (text) => {
      said += text;
      const address = /http:\S+/.exec(said)?.[0];
      if (address !== undefined) resolve({ program, address });
    });
  });

const room = mkdtempSync(join(tmpdir(), 'tuneladder-pictures-'));
const { program, address } = await started(room);
const browser = await chromium.launch({ executablePath: '/usr/bin/chromium', args: ['--no-sandbox'] });
const page = await browser.newPage({ viewport: { width: 1280, height: 800 } });
mkdirSync(FOLDER, { recursive: true });
const keep = async (name) => {
  await page.mouse.move(0, 0);
  await page.waitForTimeout(700);
  await page.screenshot({ path: join(FOLDER, `${name}.png`) });
  console.log(`docs/workbench/${name}.png`);
};
const panel = (name) => page.click(`nav.panels button:text-is("${name}")`);

await page.goto(address);
await page.waitForSelector('.lesson');
await keep('1-my-lessons');
await page.click('text=New lesson');
await page.fill('textarea', TUNE);
await page.waitForSelector('.tunes li');
await keep('2-a-new-lesson');
await page.click('button.do');
await page.waitForSelector('.line');
await page.waitForFunction(() => !document.querySelector('#play').disabled);
await keep('3-the-ladder');
await page.click('.bar[data-bar="6"]');
await panel('This bar');
await page.waitForSelector('.choices li');
await keep('4-this-bar');
const ways = page.locator('section.group', {
  has: page.getByRole('heading', { name: 'Other ways to play it' }),
});
await ways.getByLabel('Its notes, in ABC').fill('d2BG dBGB');
await ways.getByRole('button', { name: 'Keep this way' }).click();
await ways.locator('li').waitFor();
await ways.locator('h3').evaluate((heading) => heading.scrollIntoView({ block: 'center' }));
await keep('4-other-ways');
await panel('Text');
await page.waitForSelector('.cm-content');
await keep('5-text');
await panel('Settings');
await keep('6-settings');
await panel('Lesson text');
await page.waitForSelector('pre.made');
await keep('7-lesson-text');
await panel('Pack');
await page.waitForSelector('.parts');
await page.click('.pack button.do');
await page.waitForFunction(() => (document.querySelector('progress')?.value ?? 0) > 0.3, null, {
  timeout: 200_000,
});
await keep('8-pack');
await panel('Lesson text');
await page.click('text=Before the camera');
await page.waitForSelector('.camera h1');
await page.keyboard.press('Space');
await keep('9-before-the-camera');

const shelf = new URL('/', address).href;
await page.goto(`${shelf}set`);
await page.waitForSelector('.finder li');
for (const title of ['The Lantern at Hollin Quay', "The Ferryman's Wet Coat"])
  await page.click(`button[aria-label="Add: ${title}"]`);
await page.fill('input[type=text]', 'Home by the Quay');
await page.click('text=Make the set');
await page.waitForSelector('.corner svg', { timeout: 60_000 });
await keep('10-a-set');
await page.goto(`${shelf}techniques`);
await page.waitForFunction(
  () => document.querySelector('.technique li') && !document.body.textContent.includes('Looking through'),
);
await keep('11-techniques');
// Another setting of the same tune, as somebody else may play it.
await page.goto(`${shelf}new`);
await page.fill(
  'textarea',
  TUNE.replace('The Kettle Lid', 'The Kettle Lid, as Ned plays it')
    .replace('A2 AB c2 Bc', 'A2 cA ecAc')
    .replace('eage dBGB|1', '~e3d BAGB|1'),
);
await page.click('button.do:not([disabled])');
await page.waitForSelector('.line');
await page.goto(`${shelf}compare/the-kettle-lid/the-kettle-lid-as-ned-plays-it`);
await page.waitForSelector('.comparedBar', { timeout: 60_000 });
await keep('12-two-lessons-compared');

await browser.close();
program.kill();
rmSync(room, { recursive: true, force: true });
