import { readFileSync } from 'node:fs';

import { expect, type Page } from '@playwright/test';

const source = readFileSync(new URL('../node_modules/axe-core/axe.min.js', import.meta.url), 'utf8');

interface Violation {
  id: string;
  help: string;
  nodes: { target: string[]; failureSummary: string }[];
}

/** The page breaks no rule of WCAG 2.2 A and AA, nor axe's own best practices, in light and in dark. */
export async function expectAccessible(page: Page, where: string): Promise<void> {
  for (const colorScheme of ['light', 'dark'] as const) {
    await page.emulateMedia({ colorScheme, reducedMotion: 'reduce' });
    // Evaluated as a string through the protocol: the pages' own content policy would not let a script in.
    await page.evaluate(source);
    const violations = await page.evaluate(() =>
      (
        globalThis as unknown as {
          axe: { run: (where: Document, options: object) => Promise<{ violations: Violation[] }> };
        }
      ).axe
        // The size of targets is a rule of WCAG 2.2 that axe leaves off unless asked.
        .run(document, { rules: { 'target-size': { enabled: true } } })
        .then((result) => result.violations),
    );
    const said = violations.map(
      (one) => `${one.id}: ${one.help} (${one.nodes.map((node) => node.target.join(' ')).join('; ')})`,
    );
    expect(said, `${where}, ${colorScheme}`).toEqual([]);
  }
}
