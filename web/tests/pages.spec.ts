import { expect, test } from '@playwright/test';

import { expectAccessible } from './axe';
import * as fixtures from './fixtures';
import { mockHousehold } from './mock';

/** How the pages look with everything on them that can be: invented views, no household behind. */

const addresses = [
  '/',
  '/ahead',
  '/lots/pears',
  '/bring-in',
  '/batches',
  '/batches/b1',
  '/batches/b1/card',
  '/start-batch?route=pear/canned_halves&lot=pears&kg=9',
  '/larder',
  '/process?food=pears&form=halves',
  '/recipes',
  '/recipes/salsa?amount=1%20bushel',
  '/recipes/jelly',
  '/recipes/pear',
  '/butchering',
  '/stocktake',
  '/one',
  '/help',
  '/history',
  '/settings',
  '/start',
];

for (const address of addresses) {
  test(`${address} is accessible, fits a narrow phone, and prints`, async ({ page }) => {
    await mockHousehold(page);
    await page.setViewportSize({ width: 390, height: 844 });
    await page.goto(address);
    await expect(page.locator('h1')).toBeVisible();
    await page.waitForLoadState('networkidle');
    await expectAccessible(page, address);
    const wider = await page.evaluate(() => document.documentElement.scrollWidth - window.innerWidth);
    expect(wider, 'nothing is wider than the phone').toBeLessThanOrEqual(0);
    expect((await page.pdf({ preferCSSPageSize: true })).length).toBeGreaterThan(1000);
  });
}

test('today says one thing first, at 28 px or more, with one button', async ({ page }) => {
  await mockHousehold(page);
  await page.goto('/');
  const title = page.locator('.next-title');
  await expect(title).toHaveText('Move 2 bu of pears to the cellar');
  expect(await title.evaluate((element) => parseFloat(getComputedStyle(element).fontSize))).toBeGreaterThanOrEqual(
    28,
  );
  expect(await page.evaluate(() => parseFloat(getComputedStyle(document.body).fontSize))).toBeGreaterThanOrEqual(18);
  await expect(page.locator('.next button.main')).toHaveCount(1);
});

test('every strip can be read without seeing it', async ({ page }) => {
  await mockHousehold(page);
  await page.goto('/');
  const strips = page.getByRole('img');
  await expect(strips).toHaveCount(fixtures.day.strips.length);
  await expect(page.getByRole('img', { name: /Pears, firm, 2 bu: 7 to 14 days left.*Can as halves/ })).toBeVisible();
  const names = await page.locator('.strip-name').allTextContents();
  expect(names).toEqual(fixtures.day.strips.map((strip) => strip.name));
  await expect(page.getByText('No later than tomorrow 6:00 pm.')).toBeVisible();
});

test('a figure can be tapped for how it was found', async ({ page }) => {
  await mockHousehold(page);
  await page.goto('/');
  const figure = page.getByRole('button', { name: '7 to 14 days left' });
  await figure.click();
  await expect(page.getByText('Low, likely and high: 7.0, 10.0, 14.0 days.')).toBeVisible();
  await expect(figure).toHaveAttribute('aria-expanded', 'true');
});

test('the caution of a step is said before its text, and the process stands with its source', async ({ page }) => {
  await mockHousehold(page);
  await page.goto('/batches/b1');
  const step = page.locator('.batch-step');
  await expect(step.locator('.step-caution + .step-text')).toBeVisible();
  await expect(step.locator('.process')).toContainText('30 min');
  await expect(step.locator('.process')).toContainText('USDA AIB-539 Guide 2');
  for (const button of await page.locator('.step-bar button').all()) {
    expect((await button.boundingBox())?.height).toBeGreaterThanOrEqual(48);
  }
});

test('a refused batch says what to do instead', async ({ page }) => {
  await mockHousehold(page);
  await page.route('**/api/v1/batches/draft', (route) =>
    route.fulfill({
      status: 422,
      json: { ok: false, code: 'altitude_missing', message: 'The altitude is not known.', instead: ['Freeze them.'] },
    }),
  );
  await page.goto('/start-batch?route=x&lot=pears&kg=1');
  await expect(page.getByRole('alert')).toContainText('The altitude is not known.');
  await expect(page.getByRole('alert')).toContainText('Freeze them.');
  await expect(page.getByRole('button', { name: 'Start this batch' })).toHaveCount(0);
});

test('a timer counts down to its deadline and says when it is up', async ({ page }) => {
  await page.clock.install();
  await mockHousehold(page);
  await page.goto('/larder');
  await expect(page.getByRole('timer')).toHaveText(/^25:0\d$/);
  await page.clock.fastForward('20:10');
  await expect(page.locator('.spoken')).toContainText('5 minutes left');
  await page.clock.fastForward('06:00');
  await expect(page.getByRole('timer')).toContainText('Time is up');
  await expect(page.locator('.spoken')).toContainText('Cool under cover: time is up.');
  await page.getByRole('button', { name: 'Bell on' }).click();
  await expect(page.getByRole('button', { name: 'Bell off' })).toHaveAttribute('aria-pressed', 'false');
});

test('the keyboard gets everywhere: skip link, heading, pages', async ({ page }) => {
  await mockHousehold(page);
  await page.goto('/larder');
  await expect(page.getByRole('heading', { level: 1 })).toBeFocused();
  await page.goto('/');
  await page.locator('body').press('Tab');
  await page.keyboard.press('Home');
  await page.getByRole('link', { name: 'Ahead' }).press('Enter');
  await expect(page.getByRole('heading', { level: 1, name: 'Ahead' })).toBeFocused();
  await page.goBack();
  await expect(page.locator('.next-title')).toBeVisible();
});

test('a heat process is looked up by its food, and stands with its source and edition', async ({ page }) => {
  await mockHousehold(page);
  await page.goto('/process');
  await page.getByLabel('Food').fill('pears');
  await page.getByRole('button', { name: 'Look it up' }).click();
  const card = page.locator('.process');
  await expect(card).toContainText('99 minutes');
  await expect(card).toContainText('edition read: 1994');
  await expect(card).toContainText('Compare with the current edition');
  expect(new URL(page.url()).search).toBe('?food=pears');
});

test('where only the leaflet has a time, a timer of the person’s own can be set', async ({ page }) => {
  await mockHousehold(page);
  await page.goto('/recipes/jelly');
  await expect(page.locator('.process')).toHaveCount(0);
  const sent = page.waitForRequest((request) => request.url().endsWith('/entries'));
  await page.getByRole('textbox', { name: 'Minutes in the leaflet' }).fill('12');
  await page.getByRole('button', { name: 'Set the timer' }).click();
  const [entry] = (await sent).postDataJSON() as { kind: string; what: { batch?: string; note: string } }[];
  expect(entry?.kind).toBe('timer_set');
  expect(entry?.what.note).toContain('leaflet');
  expect(entry?.what.batch).toBeUndefined();
});

test('several batches stand beside each other, the most pressing first, each with the move that goes on', async ({
  page,
}) => {
  await mockHousehold(page, twoBatches());
  await page.goto('/');
  await page.getByRole('link', { name: 'All batches at once' }).click();
  const open = page.locator('.open-batch');
  await expect(open).toHaveCount(2);
  await expect(open.locator('h2')).toHaveText(['Applesauce, 7 quarts', 'Dill pickles']);
  await expect(open.first().locator('.timer-clock')).toHaveText(/^25:0\d$/);
  await expect(open.last()).toContainText('Overdue: "Skim" must begin');
  for (const move of await page.locator('.open-moves > *').all()) {
    expect((await move.boundingBox())?.height).toBeGreaterThanOrEqual(48);
  }
  const sent = page.waitForRequest((request) => request.url().endsWith('/entries'));
  await page.getByRole('button', { name: 'Done, next: Dill pickles' }).click();
  const entries = (await sent).postDataJSON() as { kind: string; what: { batch: string } }[];
  expect(entries.map((one) => [one.kind, one.what.batch])).toEqual([
    ['stage_finished', 'b2'],
    ['stage_started', 'b2'],
  ]);
});

function twoBatches(): Record<string, unknown> {
  const { batch, day } = fixtures;
  const [running] = day.running;
  const pickles = {
    ...batch,
    id: 'b2',
    name: 'Dill pickles',
    current: 0,
    steps: batch.steps.map((one, i) => ({ ...one, shows_process: false, state: i === 0 ? 'underway' : 'later' })),
    deadlines: [
      {
        what: '"Skim" must begin',
        by: '2026-09-16T06:00',
        overdue: true,
        when_overdue: 'Look it over, go on at once if it is sound.',
        minutes_left: -100,
      },
    ],
  };
  return {
    '/day': { ...day, running: [{ ...running, batch: 'b2', name: 'Dill pickles' }, running] },
    '/batches/b1': { ...batch, timers: day.timers },
    '/batches/b2': pickles,
  };
}

test('the card says everything of every step on paper', async ({ page }) => {
  await mockHousehold(page);
  await page.goto('/batches/b1');
  await page.getByRole('link', { name: 'The whole card, to print' }).click();
  await expect(page.locator('.card-step')).toHaveCount(fixtures.batch.steps.length);
  await page.emulateMedia({ media: 'print' });
  for (const step of fixtures.batch.steps) {
    for (const words of [step.title, step.text, step.caution, step.looks_right, ...step.gather]) {
      await expect(page.locator('.card')).toContainText(words);
    }
  }
  await expect(page.locator('.card .process')).toContainText(
    'USDA AIB-539 Guide 2, Table for pears, edition read 1994',
  );
  await expect(page.locator('.card .process')).toContainText('1,001 to 3,000 ft');
  await expect(page.locator('.card .process')).toBeVisible();
  await expect(page.locator('.card')).toContainText(fixtures.batch.defer_to);
  await expect(page.getByRole('button', { name: 'Print' })).toBeHidden();
});

test('what befell the freezer is written down with all that lies in it', async ({ page }) => {
  await mockHousehold(page);
  await page.goto('/larder');
  await page.getByText('Something went wrong with the freezer').click();
  await page.getByLabel('What happened?').selectOption('freezer_warm');
  await page.getByRole('textbox', { name: /For how many minutes/ }).fill('300');
  const sent = page.waitForRequest((request) => request.url().endsWith('/entries'));
  await page.getByRole('button', { name: 'Write it down: thrown out' }).click();
  const [entry] = (await sent).postDataJSON() as { what: { place: string; parcels: string[] } }[];
  expect(entry?.what).toMatchObject({ place: 'freezer', parcels: ['9p2', 'tomatoes-whole'], elapsed_min: 300 });
});

test('a notice is shown when a timer is up, only after the person has said so on a button', async ({ page }) => {
  await page.clock.install();
  await page.addInitScript(() => {
    const shown: string[] = [];
    let permission = 'default';
    class Notice {
      static get permission(): string {
        return permission;
      }
      static async requestPermission(): Promise<string> {
        permission = 'granted';
        return permission;
      }
    }
    const registration = {
      showNotification: async (title: string) => void shown.push(title),
      getNotifications: async () => [],
    };
    Object.assign(window, { Notification: Notice, shown });
    navigator.serviceWorker.getRegistration = async () => registration as unknown as ServiceWorkerRegistration;
  });
  await mockHousehold(page);
  await page.goto('/larder');
  const shown = () => page.evaluate(() => (window as unknown as { shown: string[] }).shown);
  await page.getByRole('button', { name: 'Notify me' }).click();
  await expect(page.getByRole('button', { name: 'Notify me' })).toHaveCount(0);
  await page.clock.fastForward('20:00');
  expect(await shown()).toEqual([]);
  await page.clock.fastForward('06:00');
  await expect.poll(shown).toEqual(['Cool under cover: time is up.']);
});
