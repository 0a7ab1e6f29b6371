import type { BrowserContext, Page } from '@playwright/test';

import type { BatchView, DayView, HistoryLine } from '../src/api/types';
import { instant, newId, type Draft } from '../src/shared/entries';
import { t } from '../src/shared/texts';
import { expectAccessible } from './axe';
import { killed } from './kill';
import { expect, test, type Program } from './serve';
import { settled } from './settled';
import { mainButton } from './steps';
import { ask, broughtIn, said, tell } from './told';

/** Phones without a signal, against the real program. */

const beans = newId();
const shelf = (packs: number): Draft => ({
  kind: 'put_by_before',
  what: {
    parcel: beans,
    food: 'bean_snap',
    form: 'canned',
    pack: 'quart jar',
    packs,
    mass_g: 900 * packs,
    place: 'cellar',
    note: '',
  },
});

/** A page whose device has kept the pages, and the looks as they stand now. */
async function keptPage(context: BrowserContext, program: Program): Promise<Page> {
  const page = await context.newPage();
  await page.goto(program.address);
  await page.evaluate(() => navigator.serviceWorker.ready.then(() => undefined));
  await page.reload();
  const { sequence } = (await ask<DayView>(program, '/day')).household;
  await expect
    .poll(() =>
      page.evaluate(
        () =>
          new Promise<number>((resolve) => {
            const open = indexedDB.open('stillroom');
            open.onsuccess = () => {
              const get = open.result.transaction('views').objectStore('views').get('/larder');
              get.onsuccess = () => {
                const kept = get.result as { body: { household: { sequence: number } } } | undefined;
                resolve(kept?.body.household.sequence ?? -1);
                open.result.close();
              };
            };
          }),
      ),
    )
    .toBe(sequence);
  return page;
}

async function outOfReach(program: Program, ...contexts: BrowserContext[]): Promise<void> {
  for (const context of contexts) await context.setOffline(true);
  // A stream that is open already is not cut by the browser's switch: the program itself goes away.
  await program.stop();
}

test('a batch with three timers through an hour without a signal, and the page is killed', async ({
  program,
  context,
}) => {
  await settled(program.address);
  const lot = await broughtIn(program, '3 lb apples, firm, on the counter');
  const asked = { route: 'apple/jelly', lots: [lot], kg: 0 };
  const draft = await tell<{ entry: Record<string, unknown> }>(program, '/batches/draft', asked);
  const batch = String(draft.entry['batch']);
  await said(program, [{ kind: 'batch_started', what: draft.entry }]);
  const start = Date.parse((await ask<DayView>(program, '/day')).household.now_utc);
  const minutes = { Jars: 20, Syrup: 45, Blanch: 180 };
  await said(
    program,
    Object.entries(minutes).map(([name, min]) => ({
      kind: 'timer_set' as const,
      what: { timer: newId(), batch, name, due: instant(start + min * 60_000) },
    })),
  );

  // The batch's page was never opened on this phone: it opens all the same.
  await context.clock.install();
  const first = await keptPage(context, program);
  await outOfReach(program, context);
  await first.goto(`${program.address}/batches/${batch}`);
  await expect(first.getByText(/^Step 1 of/)).toBeVisible();
  await expect(first.getByText('No connection.')).toBeVisible();
  await expect(first.locator('.timers .timer')).toHaveCount(3);
  const main = mainButton(first);
  await main.click();
  await expect(first.locator('.step-bar .main')).toBeEnabled();
  await context.clock.fastForward('00:30:00');
  await expect(first.locator('.timers .timer-due')).toHaveCount(1);
  await expect(first.locator('.timers .spoken')).toHaveText('Jars: time is up.');
  await first.getByRole('button', { name: 'Stop timer: Jars' }).click();
  await expect(first.locator('.timers .timer')).toHaveCount(2);
  await main.click();
  await expect(first.getByText(/^Step 2 of/)).toBeVisible();
  await expectAccessible(first, 'batch offline');
  await killed(first);

  const second = await context.newPage();
  await second.goto(`${program.address}/batches/${batch}`);
  await expect(second.getByText(/^Step 2 of/)).toBeVisible();
  await expect(second.locator('.timers .timer')).toHaveCount(2);
  await expect(second.locator('.timers .timer-due')).toHaveCount(0);
  await expect(second.getByText('4 changes wait to be sent.')).toBeVisible();
  await context.clock.fastForward('00:30:00');
  await expect(second.locator('.timers .timer-due')).toHaveCount(1);
  await expect(second.locator('.timers .spoken')).toHaveText('Syrup: time is up.');
  await second.getByRole('button', { name: 'Stop timer: Syrup' }).click();
  await expect(second.locator('.timers .timer')).toHaveCount(1);
  await mainButton(second).click();
  await expect(second.getByText(/^Step 3 of/)).toBeVisible();

  await program.later(60);
  await context.setOffline(false);
  await expect(second.locator('.standing')).toBeHidden();
  const seen = await ask<BatchView>(program, `/batches/${batch}`);
  expect(seen.steps.slice(0, 3).map((step) => step.state)).toEqual(['done', 'done', 'underway']);
  expect(seen.timers.filter((timer) => timer.id !== '').map((timer) => timer.name)).toEqual(['Blanch']);
  const lines = (await ask<HistoryLine[]>(program, '/history')).map((line) => line.words);
  const told = (word: string): string[] => lines.filter((line) => line.startsWith(word));
  expect(told('Began'), 'nothing lost or doubled').toHaveLength(3);
  expect(told('Finished'), 'nothing lost or doubled').toHaveLength(2);
  for (const some of [told('Began'), told('Finished')]) expect(new Set(some).size).toBe(some.length);
  expect(told('Stopped a timer'), 'nothing lost or doubled').toHaveLength(2);
  expect((await ask<DayView>(program, '/day')).discrepancies).toEqual([]);
});

test('two phones take the last jar, and what does not add up is settled in words', async ({ program, browser }) => {
  await settled(program.address);
  await said(program, [shelf(1)]);
  const contexts = [await browser.newContext(), await browser.newContext()];
  const pages: Page[] = [];
  for (const context of contexts) pages.push(await keptPage(context, program));
  await outOfReach(program, ...contexts);
  for (const page of pages) {
    await page.goto(`${program.address}/larder`);
    const take = page.getByRole('button', { name: /^Take one/ }).first();
    await take.click();
    await expect(take).toBeHidden();
    await expect(page.locator('.toast')).toContainText('Kept on this device');
  }
  await program.start();
  for (const context of contexts) await context.setOffline(false);
  for (const page of pages) await expect(page.getByText('1 change waits to be sent.')).toBeHidden();
  await expect.poll(async () => (await ask<DayView>(program, '/day')).discrepancies).toHaveLength(1);

  const [page, other] = pages as [Page, Page];
  await page.getByRole('link', { name: '1 thing does not add up.' }).click();
  await expect(page.getByRole('heading', { name: 'What does not add up' })).toBeVisible();
  const one = page.locator('.settle');
  await expect(one).toHaveCount(1);
  await expect(one).toContainText('What was said');
  await expect(one).toContainText('Took');
  await expectAccessible(page, 'settle');
  await one.getByRole('button', { name: /^That was not so/ }).click();
  await expect(page.getByText('Everything adds up.')).toBeVisible();
  await expect(other.getByText('1 thing does not add up.')).toBeHidden();
  expect((await ask<DayView>(program, '/day')).discrepancies).toEqual([]);
  for (const context of contexts) await context.close();
});

test('whatever is open in the household opens without a signal, from the last look and at once', async ({
  demo,
  context,
}) => {
  const day = await ask<DayView>(demo, '/day');
  const page = await keptPage(context, demo);
  // The household takes its time: the page does not wait for it.
  await page.route('**/api/v1/**', (route) => setTimeout(() => void route.abort().catch(() => undefined), 5_000));
  await page.goto(demo.address);
  await expect(page.locator('.next-title')).toBeVisible({ timeout: 4_000 });
  await page.unroute('**/api/v1/**');

  await outOfReach(demo, context);
  const batches = day.running.map((one) => `/batches/${one.batch}`);
  const cards = batches.map((path) => `${path}/card`);
  const lots = day.strips.map((strip) => `/lots/${strip.lot}`);
  for (const path of ['/', '/ahead', '/larder', '/batches', '/bring-in', '/history', ...batches, ...cards, ...lots]) {
    await page.goto(demo.address + path);
    await expect(page.getByText(/No connection\. As it stood today/), path).toBeVisible();
    await expect(page.getByText(t.offline.never), path).toBeHidden();
    expect((await page.locator('main').innerText()).length, path).toBeGreaterThan(30);
  }
});

test('what only the household can look up says so without a signal, and is not blank', async ({
  program,
  context,
}) => {
  await settled(program.address);
  const page = await keptPage(context, program);
  await outOfReach(program, context);
  const needs = page.locator('main').getByText(t.offline.never);
  for (const path of ['/process?food=pear', '/recipes', '/recipes/pear', '/settings', '/devices']) {
    await page.goto(program.address + path);
    await expect(needs, path).toBeVisible();
    await expect(page.locator('h1'), path).toBeVisible();
  }
  // Asked for here and now, not by an address.
  await page.goto(`${program.address}/process`);
  await page.getByLabel(t.process.food).fill('pear');
  await page.getByRole('button', { name: t.process.lookUp }).click();
  await expect(needs).toBeVisible();
  await page.goto(`${program.address}/butchering`);
  await page.getByLabel(t.butchering.line).fill('20 chickens, 80 lb live');
  await page.getByRole('button', { name: t.butchering.look }).click();
  await expect(page.getByText(t.butchering.needs)).toBeVisible();
  await page.goto(`${program.address}/start-batch?route=apple/jelly&lot=${newId()}`);
  await expect(page.locator('main').getByText(t.batch.needsHousehold)).toBeVisible();
});

// A worker would carry requests past the tests' own answers.
test.describe('where the network answers as the test wants', () => {
  test.use({ serviceWorkers: 'block' });

  test('a tap is seen though the network answers nothing', async ({ program, page }) => {
    await settled(program.address);
    await said(program, [shelf(9)]);
    await page.goto(`${program.address}/larder`);
    const count = page.locator('.pack .count').first();
    await expect(count).toHaveText('9');
    await page.route('**/api/v1/entries', () => undefined);
    for (let n = 0; n < 5; n += 1) await page.locator('.pack .take').first().click();
    await expect(count).toHaveText('4');
    await expect(page.locator('.toast')).toContainText('it is being sent');
    await page.unroute('**/api/v1/entries');
    await expect(page.getByText('5 changes wait to be sent.')).toBeHidden();
    await expect(count).toHaveText('4');
    const { shelves } = await ask<{ shelves: { packs: { packs: number }[] }[] }>(program, '/larder');
    expect(shelves.flatMap((one) => one.packs).map((pack) => pack.packs)).toEqual([4]);
  });

  test('a phone that is not let in is led to be paired, and keeps what was said', async ({ program, page }) => {
    await settled(program.address);
    await said(program, [shelf(9)]);
    await page.goto(`${program.address}/larder`);
    const count = page.locator('.pack .count').first();
    await expect(count).toHaveText('9');
    const refusal = { ok: false, code: 'not_paired', message: 'This device must be paired again.', instead: [] };
    // Turned away once; the pairing page finds that this device may come in after all, and leads back.
    await page.route('**/api/v1/entries', (route) => route.fulfill({ status: 401, json: refusal }), { times: 1 });
    const led = page.waitForRequest((request) => request.url().endsWith('/pair'));
    await page
      .getByRole('button', { name: /^Take one/ })
      .first()
      .click();
    await led;
    const left = async (): Promise<number[]> => {
      const { shelves } = await ask<{ shelves: { packs: { packs: number }[] }[] }>(program, '/larder');
      return shelves.flatMap((one) => one.packs).map((pack) => pack.packs);
    };
    await expect.poll(left).toEqual([8]);
    await expect(page.locator('.standing')).toBeHidden();
  });
});
