import axe from 'axe-core';
import type { Page } from 'playwright-core';

/** What the accessibility checker finds, in words. */
export const violations = async (on: Page): Promise<readonly string[]> => {
  await on.evaluate(axe.source);
  return on.evaluate(async () => {
    const checker = (globalThis as unknown as { axe: typeof axe }).axe;
    const { violations: found } = await checker.run(document, {
      // Asked for by nobody here: best practices that are no rule of WCAG.
      runOnly: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa'],
    });
    return found.map((v) => `${v.id}: ${v.nodes.map((n) => n.html.slice(0, 120)).join(' | ')}`);
  });
};
