import { existsSync } from 'node:fs';
import { type Browser, chromium } from 'playwright-core';

const CHROMIUM = '/usr/bin/chromium';

/** Whether Debian's chromium is there; where it must be and is not, its tests fail. */
export const BROWSER = existsSync(CHROMIUM) || process.env.REQUIRE_BROWSER === '1';
if (!BROWSER) process.stderr.write(`practice page: its checks are skipped, there is no ${CHROMIUM}\n`);

/** Starts the browser, without a window. */
export const openBrowser = (): Promise<Browser> =>
  chromium.launch({ executablePath: CHROMIUM, args: ['--no-sandbox'] });
