import { expectAccessible } from './axe';
import { expect, test } from './serve';
import { settled } from './settled';
import { goOn, later, mainButton, packing } from './steps';

/** A batch in which something goes wrong, against the real program. */

test('jelly: the boil stops, the clock starts again, a lid does not seal, and undo puts it right', async ({
  page,
  program,
}) => {
  test.setTimeout(180_000);
  await settled(program.address);
  await page.goto(`${program.address}/bring-in`);
  await page.getByLabel('One line').fill('3 lb apples, firm, on the counter');
  await page.getByRole('button', { name: 'Read it' }).click();
  await page.getByRole('button', { name: 'Bring it in', exact: true }).click();
  await expect(page.locator('.strip-row')).toHaveCount(1);
  // The page draws the lot before the household has planned with it.
  const strips = async (): Promise<{ lot: string }[]> =>
    ((await (await fetch(`${program.address}/api/v1/day`)).json()) as { strips: { lot: string }[] }).strips;
  await expect.poll(async () => (await strips()).length).toBe(1);
  const lot = (await strips())[0]?.lot ?? '';
  await page.goto(`${program.address}/start-batch?route=apple/jelly&lot=${lot}`);
  await page.getByRole('button', { name: 'Start this batch' }).click();
  await expect(page.getByText(/^Step 1 of/)).toBeVisible();
  await page.getByRole('button', { name: 'Begin this step' }).click();

  const main = mainButton(page);
  const clock = page.getByText('The clock began earlier');
  for (let n = 0; n < 20 && !(await clock.isVisible()); n += 1) await goOn(page);
  await expect(clock).toBeVisible();

  // The boil stops: said what to do, written down, and the step waits to be begun anew.
  await page.getByText('Something went wrong').click();
  await page.getByLabel('What happened?').selectOption({ label: 'The boil stopped' });
  await page.getByRole('textbox', { name: 'How many minutes ago did it happen?' }).fill('1');
  await expect(page.locator('.trouble-answer')).toContainText('the whole time again');
  await expectAccessible(page, 'trouble');
  await page.getByRole('button', { name: 'Write it down: the whole time again' }).click();
  await expect(clock).toBeHidden();

  // Minutes before the fault count for nothing, nor does a restart.
  await later(page, program, 30);
  await main.click();
  await expect(clock).toBeVisible();
  await main.click();
  await expect(page.locator('.toast')).toContainText('0 of 10 minutes');
  await later(page, program, 11);
  await expect(clock).toBeVisible();
  for (let n = 0; n < 20 && !(await packing(page).isVisible()); n += 1) await goOn(page);
  await page.getByRole('textbox').first().fill('4');
  await page.getByRole('button', { name: 'Put by' }).click();
  // USDA AIB-539 Guide 7, jelly without added pectin: half-pints 10 minutes from 1,001 to 6,000 ft.
  const record = page.locator('.processed');
  await expect(record).toHaveText(
    'Processed as published in USDA AIB-539 Guide 7, Making jelly without added pectin, p 7-5 and 7-6 ' +
      '(edition read: unstated): half-pint jars in a boiling-water canner, 10 min, for 1,001 to 6,000 ft.',
  );

  // Lids found unsealed after a day and more: not food, until that is taken back.
  if (!(await page.getByLabel('What happened?').isVisible())) await page.getByText('Something went wrong').click();
  await page.getByLabel('What happened?').selectOption({ label: 'A lid did not seal' });
  await page.getByRole('textbox', { name: 'How many minutes since the load came out?' }).fill('1500');
  await page.getByRole('button', { name: 'Write it down: thrown out' }).click();
  await expect(page.locator('.caution').first()).toContainText('Do not eat: a lid did not seal.');
  await expect(record).toBeHidden();
  await page.getByRole('button', { name: 'Undo' }).click();
  await expect(record).toBeVisible();
});
