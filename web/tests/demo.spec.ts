import type { DayView } from '../src/api/types';
import { expectAccessible } from './axe';
import { expect, test } from './serve';
import { ask } from './told';

/** The demo household, with a lot on every page. */

test('every page of the demo is accessible in light and dark and fits a phone', async ({ page, demo }) => {
  test.setTimeout(240_000);
  await page.setViewportSize({ width: 390, height: 844 });
  await page.goto(demo.address);
  await expect(page.locator('.strip-row').first()).toBeVisible();
  const lot = (await page.locator('.strip-name').first().getAttribute('href')) ?? '';
  const batch = await page
    .locator('.day-now a[href^="/batches/"]')
    .first()
    .getAttribute('href', { timeout: 1000 })
    .catch(() => null);
  const addresses = ['/', '/ahead', '/bring-in', '/larder', '/history', '/settings', '/start', lot, batch ?? '/'];
  for (const address of addresses) {
    await page.goto(demo.address + address);
    await expect(page.getByText('One moment.')).toHaveCount(0);
    await expectAccessible(page, address);
    const wider = await page.evaluate(() => document.documentElement.scrollWidth - window.innerWidth);
    expect(wider, `${address} fits`).toBeLessThanOrEqual(0);
  }
});

test('a lot says why it stands where it does', async ({ page, demo }) => {
  test.setTimeout(120_000);
  await page.goto(demo.address);
  await page.locator('.strip-name').first().click();
  await page.getByRole('button', { name: 'Work it out' }).click();
  await expect(page.getByRole('table', { name: 'What waiting costs' })).toBeVisible({ timeout: 90_000 });
});

test('the ducks that stand alive are butchered in two days, and then none stand', async ({ page, demo }) => {
  const alive = async (): Promise<string[]> =>
    (await ask<DayView>(demo, '/day')).strips.filter((one) => one.lot === 'ducks').map((one) => one.place);
  for (const left of [true, false]) {
    await page.goto(`${demo.address}/lots/ducks`);
    await page.getByRole('link', { name: 'They are brought in as a butchering day' }).click();
    await page.getByLabel('How many, of what, and what one weighs').fill('4 ducks, 5 lb each');
    await page.getByRole('button', { name: 'Say what it comes to' }).click();
    await page.getByLabel('Others are left alive for another day').setChecked(left);
    await page.getByRole('button', { name: 'Bring them in' }).click();
    await expect(page.locator('.toast')).toContainText('4 ducks');
    await expect.poll(alive).toEqual(left ? ['still alive'] : []);
  }
  const { strips } = await ask<DayView>(demo, '/day');
  const carcasses = strips.filter((one) => one.crop === 'duck' && one.form === 'carcass');
  expect(carcasses.map((one) => one.hazard_by !== '')).toEqual([true, true]);
});
