import type { Page } from '@playwright/test';

import type { LarderView } from '../src/api/types';
import { newId } from '../src/shared/entries';
import { expect, test } from './serve';
import { settled } from './settled';
import { mainButton } from './steps';
import { ask, said } from './told';

/** The walk of a day on a phone, a tablet and a laptop, against the real program. */

const kHeight = 844;
const kCrops = { 390: 'apples', 768: 'pears', 1280: 'plums' } as const;
const kJars = 9;

/** Nothing runs out of the side, and what is done next is seen whole in its width. */
async function fits(page: Page, width: number): Promise<void> {
  const { wider, out } = await page.evaluate(() => {
    const controls = [...document.querySelectorAll<HTMLElement>('main button, main a, main input')];
    const seen = controls.filter((one) => one.checkVisibility()).map((one) => one.getBoundingClientRect());
    return {
      wider: document.documentElement.scrollWidth - window.innerWidth,
      out: seen.filter((box) => box.left < 0 || box.right > window.innerWidth).length,
    };
  });
  expect({ wider: Math.max(0, wider), out }, `${page.url()} at ${width} px`).toEqual({ wider: 0, out: 0 });
}

test('bring in, day, a step, take one, count the shelf: at 390, 768 and 1280 px', async ({ page, program }) => {
  await settled(program.address);
  const beans = { food: 'bean_snap', form: 'canned', pack: 'quart jar', place: 'cellar', note: '' };
  await said(program, [
    { kind: 'put_by_before', what: { ...beans, parcel: newId(), packs: kJars, mass_g: 900 * kJars } },
  ]);
  let left = kJars;
  for (const [at, crop] of Object.entries(kCrops)) {
    const width = Number(at);
    await page.setViewportSize({ width, height: kHeight });
    await page.goto(`${program.address}/bring-in`);
    await page.getByLabel('One line').fill(`10 lb ${crop}, ripe, on the counter`);
    await page.getByRole('button', { name: 'Read it' }).click();
    await expect(page.locator('.confirm-line')).toContainText('ripe');
    await fits(page, width);
    await page.getByRole('button', { name: 'Bring it in', exact: true }).click();

    await page.getByRole('link', { name: 'Today', exact: true }).click();
    const strip = page.locator('.strip-row', { hasText: new RegExp(crop.slice(0, -1), 'i') });
    await expect(strip).toBeVisible();
    await expect(page.locator('.next-title')).not.toBeEmpty();
    await fits(page, width);

    // The day is drawn anew while it is planned; this walk does not wait for the plan.
    await page.goto(program.address + (await strip.locator('a.strip-name').getAttribute('href')));
    await page.locator('.routes .line').getByRole('link').first().click();
    const start = page.getByRole('button', { name: 'Start this batch' });
    await expect(start).toBeVisible();
    await fits(page, width);
    await start.click();
    await page.getByRole('button', { name: 'Begin this step' }).click();
    await expect(mainButton(page)).not.toHaveText('Begin this step');
    await fits(page, width);

    await page.goto(`${program.address}/larder`);
    await page
      .getByRole('button', { name: /^Take one/ })
      .first()
      .click();
    left -= 1;
    await expect(page.locator('.pack .count').first()).toHaveText(String(left));
    await fits(page, width);
    // Nothing is on its way any more: a page that moves under the finger loses the tap.
    const packs = async (): Promise<number[]> =>
      (await ask<LarderView>(program, '/larder')).shelves.flatMap((shelf) => shelf.packs.map((pack) => pack.packs));
    await expect.poll(packs).toEqual([left]);

    await page.goto(`${program.address}/stocktake`);
    await page.getByRole('button', { name: /cellar/i }).click();
    const yes = page.getByRole('button', { name: `Yes, ${left}` });
    await expect(yes).toBeVisible();
    await fits(page, width);
    await yes.click();
    await expect(page.getByText('Everything is as the book says.')).toBeVisible();
    await fits(page, width);
    await page.locator('.stocktake .main').click();
  }
});
