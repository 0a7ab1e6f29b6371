import { readFileSync, writeFileSync } from 'node:fs';

import { expect, test, type Page } from '@playwright/test';

import { expectAccessible } from './axe';
import * as fixtures from './fixtures';
import { mockHousehold } from './mock';

/** Quick hands and access, on the pages by themselves. */

const shots = process.env['SHOTS'];

interface Sent {
  id: string;
  kind: string;
  what: Record<string, unknown>;
}

/** Every entry the page sends from now on. */
function listen(page: Page): Sent[] {
  const sent: Sent[] = [];
  page.on('request', (request) => {
    if (request.url().endsWith('/entries')) sent.push(...(request.postDataJSON() as Sent[]));
  });
  return sent;
}

async function noSidewaysScroll(page: Page): Promise<void> {
  const wider = await page.evaluate(() => document.documentElement.scrollWidth - window.innerWidth);
  expect(wider, page.url()).toBeLessThanOrEqual(0);
}

test('three taps bring a lot in: crop, basket, condition', async ({ page }) => {
  await mockHousehold(page);
  const sent = listen(page);
  await page.goto('/bring-in');
  let taps = 0;
  const tap = async (name: string): Promise<void> => {
    await page.getByRole('button', { name, exact: true }).first().click();
    taps += 1;
  };
  // What was brought in last stands first.
  await expect(page.locator('.big-taps button').first()).toHaveText('plum');
  await tap('pear');
  await expectAccessible(page, 'how full');
  await page.locator('.big-taps button', { hasText: 'bushel, half full' }).click();
  taps += 1;
  await expect(page.getByText('Goes to: kitchen counter')).toBeVisible();
  await expectAccessible(page, 'condition');
  await tap('firm');
  await expect(page.locator('.toast')).toContainText('half a bushel of pear brought in');
  expect(taps).toBe(3);
  expect(sent.map((one) => one.kind)).toEqual(['brought_in']);
  expect(sent[0]?.what).toMatchObject({ crop: 'pear', mass_g: 11350, condition: 'firm', place: 'counter' });
  // The container of the last time is meant again, and the place.
  await tap('plum');
  await expect(page.locator('.big-taps')).toContainText('peck, full');
});

test('packs are taken by the first letters of their code, by number, and put back', async ({ page }) => {
  await mockHousehold(page);
  const sent = listen(page);
  await page.goto('/larder');
  const [apple] = fixtures.larder.shelves[0]?.packs.filter((pack) => pack.parcel === '8m1') ?? [];
  await page.getByRole('searchbox').fill((apple?.code ?? '').slice(0, 3).toLowerCase());
  const line = page.locator('.larder section .pack', { hasText: 'Applesauce' });
  await expect(line).toBeVisible();
  await expectAccessible(page, 'taking');
  await line.getByRole('textbox', { name: 'How many to take' }).fill('3');
  await line.getByRole('button', { name: 'Take 3: Applesauce' }).click();
  await expect(page.locator('.toast')).toContainText('Took 3');
  await line.getByRole('button', { name: 'Put back: Applesauce' }).click();
  await expect(page.locator('.toast')).toContainText('Taken back');
  expect(sent.map((one) => one.kind)).toEqual(['taken', 'undone']);
  expect(sent[0]?.what).toMatchObject({ parcel: '8m1', packs: 3 });
});

test('a shelf is counted with one thumb, and goes on where it was left', async ({ page }) => {
  await mockHousehold(page);
  await page.setViewportSize({ width: 390, height: 844 });
  const sent = listen(page);
  await page.goto('/stocktake');
  await page.getByRole('button', { name: /Pantry shelf/ }).click();
  await expect(page.getByText('1 of 2')).toBeVisible();
  await expectAccessible(page, 'stocktake');
  const thumbs = page.locator('.thumb-bar button');
  await expect(thumbs).toHaveCount(5);
  for (const thumb of await thumbs.all()) {
    const box = await thumb.boundingBox();
    expect(box?.height).toBeGreaterThanOrEqual(48);
    expect(box?.width).toBeGreaterThanOrEqual(48);
    expect(box?.y, 'in the lower third').toBeGreaterThan(844 * 0.66);
  }
  await page.getByRole('button', { name: 'One fewer' }).click();
  await page.getByRole('button', { name: 'Yes, 8' }).click();
  await expect(page.getByText('2 of 2')).toBeVisible();
  await page.reload();
  await page.getByRole('button', { name: 'Go on with Pantry shelf' }).click();
  await expect(page.getByText('2 of 2')).toBeVisible();
  await page.getByRole('button', { name: 'Yes, 7' }).click();
  await expect(page.getByText('8 there, the book said 9')).toBeVisible();
  await expectAccessible(page, 'stocktake, end');
  // The page that was killed may send an answer again, under its own id: the household stores it once.
  const stored = [...new Map(sent.map((one) => [one.id, one])).values()];
  expect(stored.map((one) => [one.kind, one.what['packs']])).toEqual([
    ['counted', 8],
    ['counted', 7],
  ]);
  await page.emulateMedia({ media: 'print' });
  await expect(page.getByRole('table')).toBeVisible();
  await expect(page.getByRole('table')).toContainText('Applesauce');
});

test('one job: one thing, three moves, and nothing else', async ({ page }) => {
  await mockHousehold(page);
  await page.goto('/');
  await page.getByRole('link', { name: 'Only this, nothing else on the screen' }).click();
  await expect(page.locator('.next-title')).toHaveText('Move 2 bu of pears to the cellar');
  await expect(page.getByRole('navigation')).toHaveCount(0);
  await expect(page.locator('.thumb-bar .main')).toBeInViewport({ ratio: 1 });
  const sent = listen(page);
  await page.getByRole('button', { name: 'Another one' }).click();
  await expect(page.locator('.next-title')).not.toHaveText('Move 2 bu of pears to the cellar');
  await page.reload();
  await page.locator('.thumb-bar .main').click();
  await expect.poll(() => sent.map((one) => one.kind)).toEqual(['moved']);
});

test('a helper sees one task, as the household chose it', async ({ page }) => {
  await mockHousehold(page);
  const sent = listen(page);
  await page.goto('/help');
  await page.getByRole('button', { name: 'Ann' }).click();
  await expect(page.locator('.next-title')).toHaveText(['Wash the jars']);
  await expectAccessible(page, 'help');
  await page.getByRole('button', { name: 'I’ll do it' }).click();
  await expect.poll(() => sent.map((one) => [one.kind, one.what['who']])).toEqual([['stage_started', 'ann']]);
  // What was just said is told beside the moves, not over them.
  await page.getByRole('button', { name: 'Can’t' }).click({ timeout: 5_000 });
  await expect(page.locator('.next-title')).toHaveText(['Braid the onions']);
  await page.getByRole('button', { name: 'Can’t' }).click();
  await expect(page.getByText('That is all there is for you')).toBeVisible();
});

test('a helper is lent the device: on leaving it speaks for whom it spoke before', async ({ page }) => {
  await mockHousehold(page);
  await page.addInitScript(() => localStorage.setItem('stillroom.who', 'mary'));
  const sent: { kind: string; who: string }[] = [];
  page.on('request', (request) => {
    if (request.url().endsWith('/entries')) sent.push(...(request.postDataJSON() as typeof sent));
  });
  const said = (): string[][] => sent.map((one) => [one.kind, one.who]);
  const back = page.getByRole('link', { name: 'Back to the whole day' });
  await page.goto('/help');
  await page.getByRole('button', { name: 'Ann' }).click();
  await page.getByRole('button', { name: 'I’ll do it' }).click();
  await expect.poll(said).toEqual([['stage_started', 'ann']]);
  await back.click();
  await page.getByRole('link', { name: 'Larder' }).first().click();
  const take = page.getByRole('button', { name: /^Take one/ }).first();
  await take.click();
  await expect.poll(said).toEqual([
    ['stage_started', 'ann'],
    ['taken', 'mary'],
  ]);
  // Killed in the helper's hands: the device is Mary's when it opens again.
  await page.goto('/help');
  await page.getByRole('button', { name: 'Ann' }).click();
  await expect(back).toBeVisible();
  await page.goto('/larder');
  await take.click();
  await expect.poll(said).toHaveLength(3);
  expect(said().at(-1)).toEqual(['taken', 'mary']);
});

test('every control of the batch pages is 48 px high, and none touches another', async ({ page }) => {
  await mockHousehold(page);
  await page.setViewportSize({ width: 390, height: 844 });
  for (const address of [
    '/',
    '/help',
    '/batches/b1',
    '/batches',
    '/batches/b1/card',
    '/start-batch?route=x&lot=pears&kg=9',
  ]) {
    await page.goto(address);
    await page.waitForLoadState('networkidle');
    for (const fold of await page.locator('main summary').all()) if (await fold.isVisible()) await fold.click();
    const small = await page.evaluate(() => {
      // A link or a figure inside a sentence is as high as its line, as WCAG allows.
      const all = document.querySelectorAll<HTMLElement>(
        'main button:not(.figure), main summary, main a.quiet, .timers a, .timers button',
      );
      return [...all]
        .filter((one) => one.checkVisibility() && one.getBoundingClientRect().height < 48)
        .map((one) => `${one.textContent}: ${one.getBoundingClientRect().height}`);
    });
    expect(small, address).toEqual([]);
  }
});

test('a timer that is over leaves its name room on a phone', async ({ page }) => {
  await page.clock.install();
  await mockHousehold(page);
  await page.setViewportSize({ width: 390, height: 844 });
  await page.goto('/');
  await expect(page.locator('.timer')).toHaveCount(1);
  // Asked again half an hour on, the household of the test would say once more that the timer has time left.
  await page.route('**/api/v1/**', (route) => route.abort());
  await page.clock.fastForward('00:30:00');
  const name = page.locator('.timer-due .timer-name');
  await expect(name).toBeVisible();
  expect((await name.boundingBox())?.width).toBeGreaterThan(300);
  await expect(page.locator('.timer-due .timer-clock')).toContainText('Time is up');
});

test('three timers leave a phone four fifths of its screen, each within reach, and one that is up is told in full', async ({
  page,
}) => {
  await page.clock.install();
  const [timer] = fixtures.day.timers;
  const broth = 'chickens: simmer bones to broth in the slow cooker and can it, quarts';
  const timers = [
    { ...timer, id: '1', name: 'Lid off, wait, load 1', batch_name: broth, seconds_left: 290 },
    {
      ...timer,
      id: '2',
      name: 'Process, load 2',
      batch: 'b2',
      batch_name: 'Pears, canned halves',
      seconds_left: 1507,
    },
    { ...timer, id: '3', name: 'Soak', batch: '', batch_name: '', note: 'by the leaflet', seconds_left: 7210 },
  ];
  await mockHousehold(page, { '/day': { ...fixtures.day, timers } });
  await page.setViewportSize({ width: 390, height: 844 });
  await page.goto('/');
  await expect(page.locator('.timers .timer')).toHaveCount(3);
  const bar = async (): Promise<number> => (await page.locator('.timers').boundingBox())?.height ?? 0;
  const look = async (name: string): Promise<void> => {
    for (const width of [390, 1280]) {
      await page.setViewportSize({ width, height: 844 });
      await noSidewaysScroll(page);
      await expectAccessible(page, `${name} at ${width}`);
      for (const stop of await page.getByRole('button', { name: /^Stop timer/ }).all()) {
        const box = await stop.boundingBox();
        expect(Math.min(box?.width ?? 0, box?.height ?? 0), name).toBeGreaterThanOrEqual(48);
        await stop.click({ trial: true });
      }
      for (const link of await page.locator('.timers a').all()) {
        expect((await link.boundingBox())?.height, name).toBeGreaterThanOrEqual(48);
        await link.click({ trial: true });
      }
      if (shots) await page.screenshot({ path: `${shots}/${name}_${width}.png` });
    }
    await page.setViewportSize({ width: 390, height: 844 });
  };
  expect(await bar()).toBeLessThanOrEqual(844 / 5);
  await expect(page.locator('.timer-short')).toHaveCount(2);
  await expect(page.locator('.timer').first()).not.toHaveClass(/timer-short/);
  await look('three_timers');
  // Nobody stopped the first: the second is up too.
  await page.clock.fastForward('00:26:00');
  await expect(page.locator('.timer-due')).toHaveCount(2);
  await expect(page.locator('.timer-short')).toHaveText(/^Soak by the leaflet1:3/);
  await look('two_timers_up');
});

test('at 320 px, at twice the size, on a tablet and a laptop nothing runs out of the side', async ({ page }) => {
  await mockHousehold(page);
  for (const address of ['/', '/batches/b1', '/larder', '/bring-in', '/stocktake', '/one', '/settings']) {
    await page.goto(address);
    await expect(page.locator('h1')).toBeAttached();
    await expect(page.locator('main')).not.toContainText('One moment.');
    for (const width of [320, 640, 768, 1280]) {
      await page.setViewportSize({ width, height: width < 700 ? 512 : 900 });
      await noSidewaysScroll(page);
    }
  }
});

for (const width of [768, 1280]) {
  test(`a shelf is counted at ${width} px`, async ({ page }) => {
    await mockHousehold(page);
    await page.setViewportSize({ width, height: 900 });
    await page.goto('/stocktake');
    await page.getByRole('button', { name: /Freezer/ }).click();
    await page.getByRole('button', { name: 'Yes, 11' }).click();
    await expect(page.getByText('Everything is as the book says.')).toBeVisible();
    await expectAccessible(page, `stocktake at ${width}`);
  });
}

test('nothing moves for who asks for less motion', async ({ page }) => {
  await mockHousehold(page);
  await page.emulateMedia({ reducedMotion: 'reduce' });
  await page.goto('/larder');
  await page
    .getByRole('button', { name: /^Take one/ })
    .first()
    .click();
  await expect(page.locator('.toast')).toBeVisible();
  expect(await page.evaluate(() => document.getAnimations().length)).toBe(0);
});

// A wanted change of words: run with HEARD=write, read the files, keep them.
for (const [name, address] of [
  ['day', '/'],
  ['batch', '/batches/b1'],
] as const) {
  test(`the ${name} page reads as sentences`, async ({ page }) => {
    await page.clock.setFixedTime(new Date('2026-09-16T13:00:00Z'));
    await mockHousehold(page);
    await page.goto(address);
    await page.waitForLoadState('networkidle');
    const heard = `${await page.locator('body').ariaSnapshot()}\n`;
    const file = new URL(`heard/${name}.txt`, import.meta.url);
    if (process.env['HEARD'] === 'write') writeFileSync(file, heard);
    expect(heard).toBe(readFileSync(file, 'utf8'));
  });
}
