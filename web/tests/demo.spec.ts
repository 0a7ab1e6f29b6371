import { expectAccessible } from './axe';
import { expect, test } from './serve';

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
