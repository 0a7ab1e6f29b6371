import { expect, type Locator, type Page } from '@playwright/test';

import type { Program } from './serve';

/** The button of a batch's page that goes on. */
export const mainButton = (page: Page): Locator => page.locator('.step-bar .main:enabled');

/** Shown once every step is done. */
export const packing = (page: Page): Locator => page.getByRole('heading', { name: 'Pack it away' });

/** How long a page stands still before it is taken to have arrived: one tap is two entries, and each may be drawn. */
const kStillMs = 400;

/** One tap on the button that goes on; ends when the page has arrived at the next step, or at packing. */
export async function goOn(page: Page): Promise<void> {
  const head = page.locator('.page-head');
  const where = async (): Promise<string> => `${await head.textContent()} ${await packing(page).isVisible()}`;
  const before = await where();
  await mainButton(page).click();
  await expect.poll(where).not.toBe(before);
  await expect(async () => {
    const now = await where();
    await page.waitForTimeout(kStillMs);
    expect(await where()).toBe(now);
    await expect(packing(page).or(mainButton(page)).first()).toBeVisible({ timeout: 100 });
  }).toPass();
}

const kCloseMs = 60_000;

/** Later by so many minutes, and the page knows: what is tapped sooner happened by the clock from before. */
export async function later(page: Page, program: Program, minutes: number): Promise<void> {
  await program.later(minutes);
  await page.reload();
  const known = async (): Promise<number> =>
    Number(await page.evaluate(() => localStorage.getItem('stillroom.clock') ?? 0));
  await expect.poll(known).toBeGreaterThan(program.ahead - kCloseMs);
}
