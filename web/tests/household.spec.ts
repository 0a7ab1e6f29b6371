import { expectAccessible } from './axe';
import { expect, test } from './serve';
import { settled } from './settled';
import { goOn, later, mainButton, packing } from './steps';

/** The real program with a household file of its own. */

test('an empty household is asked at most six questions, and then is useful', async ({ page, program }) => {
  await page.goto(program.address);
  await expect(page.getByRole('heading', { name: 'A few questions first' })).toBeVisible();
  await expect(page.getByText('Question 1 of 6')).toBeVisible();
  await expectAccessible(page, 'start');
  await page.getByLabel('How high above sea level').fill('1250 ft');
  await page.getByRole('button', { name: 'Answer' }).click();
  await expect(page.getByText('Question 2 of 6')).toBeVisible();
  for (let n = 2; n <= 5; n += 1) {
    await expect(page.getByText(`Question ${n} of 6`)).toBeVisible();
    await page.getByRole('button', { name: 'Skip this one' }).click();
  }
  await page
    .getByLabel('What is waiting')
    .fill('2 bu pears, firm, in the cellar\nhalf a bushel of plums, soft, on the counter');
  await page.getByRole('button', { name: 'Answer' }).click();
  await expect(page.getByRole('heading', { name: 'Bring in' })).toBeVisible();
  await page.getByRole('link', { name: 'Today', exact: true }).click();
  await expect(page.locator('.strip-row')).toHaveCount(2);
  await expect(page.locator('.next-title')).not.toBeEmpty();
});

test('a refused answer says what to do instead', async ({ page, program }) => {
  await page.goto(`${program.address}/start`);
  await page.getByLabel('How high above sea level').fill('very');
  await page.getByRole('button', { name: 'Answer' }).click();
  await expect(page.locator('.no')).toBeVisible();
  await expect(page.getByText('Question 1 of 6')).toBeVisible();
});

test('from basket to jar and back: bring in, soften, plan, batch, jars, take, undo', async ({ page, program }) => {
  test.setTimeout(180_000);
  await settled(program.address);

  // Brought in by one line, looked over, kept.
  await page.goto(`${program.address}/bring-in`);
  // One canner load, so that the walk stays short.
  await page.getByLabel('One line').fill('17 lb pears, firm, on the counter');
  await page.getByRole('button', { name: 'Read it' }).click();
  await expect(page.locator('.confirm-line')).toContainText('firm');
  await page.getByRole('button', { name: 'Bring it in', exact: true }).click();
  const row = page.locator('.strip-row');
  await expect(row).toHaveCount(1);
  await expect(page.locator('.next-button')).toBeEnabled();
  const firmDays = await row.locator('.figure').first().textContent();

  // Seen soft: it has less time, and the plan changes by itself.
  await row.locator('.strip-name').click();
  await page.getByText('Look again').click();
  await page.getByRole('radio', { name: 'soft', exact: true }).check();
  await page.getByRole('button', { name: 'Note it' }).first().click();
  await expect(page.locator('.toast')).toContainText('soft');
  await page.getByRole('link', { name: 'Today', exact: true }).click();
  await expect(row.locator('.figure').first()).not.toHaveText(firmDays ?? '');

  // Undo takes the look back; ripe is what can be canned.
  await page.getByRole('button', { name: 'Undo' }).click();
  await expect(row.locator('.figure').first()).toHaveText(firmDays ?? '');
  await row.locator('.strip-name').click();
  await page.getByText('Look again').click();
  await page.getByRole('radio', { name: 'ripe', exact: true }).check();
  await page.getByRole('button', { name: 'Note it' }).first().click();
  await expect(page.locator('.toast')).toContainText('ripe');

  // A batch with a published process, begun from the lot.
  const canned = page.locator('.routes .line', { hasText: /^can/ }).filter({ has: page.locator('.process-line') });
  await canned.first().getByRole('link').click();
  await expect(page.locator('.process .small-print').first()).toContainText('As published in');
  await page.getByRole('button', { name: 'Start this batch' }).click();
  await expect(page.getByText(/^Step 1 of/)).toBeVisible();
  await expectAccessible(page, 'batch');
  await page.getByRole('button', { name: 'Begin this step' }).click();
  const pack = packing(page);
  const main = mainButton(page);
  const clock = page.getByText('The clock began earlier');
  for (let n = 0; n < 60; n += 1) {
    await expect(pack.or(main).first()).toBeVisible();
    if (await pack.isVisible()) break;
    if (await clock.isVisible()) {
      // Its published minutes are not over: it cannot be finished, only seen through.
      await main.click();
      await expect(page.locator('.toast')).toContainText('minutes');
      await later(page, program, 120);
      await expect(main).toBeVisible();
    }
    await goOn(page);
  }
  await expect(pack).toBeVisible();
  await page.getByRole('textbox').first().fill('7');
  const code = await page.locator('.code').textContent();
  await page.getByRole('button', { name: 'Put by' }).click();
  await expect(page.getByRole('heading', { name: 'Put by' })).toBeVisible();
  await expect(page.locator('.processed')).toContainText('Processed as published in');

  // The jars stand in the larder under their code; one is taken and put back.
  await page.goto(`${program.address}/larder`);
  const jars = page
    .locator('.larder section', { hasText: code ?? '' })
    .last()
    .locator('.pack');
  await expect(jars.locator('.count').first()).toHaveText('7');
  await jars.getByRole('button', { name: 'Take one' }).first().click();
  await expect(jars.locator('.count').first()).toHaveText('6');
  await page.getByRole('button', { name: 'Undo' }).click();
  await expect(jars.locator('.count').first()).toHaveText('7');
});

test('in the cellar without a signal: pages open, changes wait, and are sent once', async ({
  page,
  program,
  context,
}) => {
  test.setTimeout(120_000);
  await settled(program.address);
  await page.goto(program.address);
  await expect(page.getByText('Nothing is waiting to be put by.')).toBeVisible();
  // The service worker has the pages, and the page has kept what it needs.
  await page.evaluate(() => navigator.serviceWorker.ready.then(() => undefined));
  await page.reload();
  await expect(page.getByText('Nothing is waiting to be put by.')).toBeVisible();
  await page.waitForFunction(async () => {
    const names = await caches.keys();
    return names.length === 1;
  });
  await expect
    .poll(() =>
      page.evaluate(
        () =>
          new Promise<boolean>((resolve) => {
            const open = indexedDB.open('stillroom');
            open.onsuccess = () => {
              const get = open.result.transaction('views').objectStore('views').get('/snapshot');
              get.onsuccess = () => {
                resolve(get.result !== undefined);
                open.result.close();
              };
            };
          }),
      ),
    )
    .toBe(true);

  // A stream that is open already is not cut by the browser's switch: the program itself goes away.
  await context.setOffline(true);
  await program.stop();
  await page.goto(`${program.address}/bring-in`);
  await expect(page.getByText('No connection.')).toBeVisible();
  await page.getByLabel('One line').fill('20 lb pears, firm, cellar');
  await page.getByRole('button', { name: 'Read it' }).click();
  await expect(page.getByText('only part of the line was read')).toBeVisible();
  await page.getByRole('button', { name: 'Look it over' }).click();
  await page.getByRole('button', { name: 'Bring it in', exact: true }).click();
  await expect(page.locator('.toast')).toContainText('Kept on this device');
  await expect(page.getByText('1 change waits to be sent.')).toBeVisible();
  await expectAccessible(page, 'offline');

  await program.start();
  await context.setOffline(false);
  await expect(page.getByText('1 change waits to be sent.')).toBeHidden({ timeout: 40_000 });
  await expect(page.locator('.strip-row')).toHaveCount(1, { timeout: 40_000 });
  await page.reload();
  await expect(page.locator('.strip-row')).toHaveCount(1);
  const history = await (await fetch(`${program.address}/api/v1/history`)).json();
  const brought = (history as { words: string }[]).filter((line) => /pears/.test(line.words));
  expect(brought).toHaveLength(1);
});

test('what one page does, another sees', async ({ page, program, context }) => {
  await settled(program.address);
  await page.goto(program.address);
  await expect(page.getByText('Nothing is waiting to be put by.')).toBeVisible();
  const other = await context.newPage();
  await other.goto(`${program.address}/bring-in`);
  await other.getByLabel('One line').fill('20 lb pears, firm, on the counter');
  await other.getByRole('button', { name: 'Read it' }).click();
  await other.getByRole('button', { name: 'Bring it in', exact: true }).click();
  await page.bringToFront();
  await expect(page.locator('.strip-row')).toHaveCount(1);
});

test('settings are kept, and the altitude with them', async ({ page, program }) => {
  await settled(program.address);
  await page.goto(`${program.address}/settings`);
  const altitude = page.getByRole('textbox', { name: 'Height of the kitchen' });
  await expect(altitude).toHaveValue('1250');
  await altitude.fill('2900');
  await page.getByRole('button', { name: 'Save' }).first().click();
  await expect(page.locator('.toast')).toContainText('Saved');
  const household = await (await fetch(`${program.address}/api/v1/household`)).json();
  expect((household as { altitude_ft: number }).altitude_ft).toBeCloseTo(2900, 0);
});
