import type { Page } from '@playwright/test';

/**
 * Kills a page as a phone does: nothing of it runs any more. A page that is only closed lets requests out that the
 * tests held back, or that had no network.
 */
export async function killed(page: Page): Promise<void> {
  const dead = page.waitForEvent('crash');
  const going = page.goto('chrome://crash').catch(() => undefined);
  await dead;
  await page.close();
  await going;
}
