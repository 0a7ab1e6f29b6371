import type { BrowserContext, Page, Route } from '@playwright/test';

import type { DayView, HistoryLine, LarderView } from '../src/api/types';
import { newId, type Draft, type Entry } from '../src/shared/entries';
import { killed } from './kill';
import { expect, test, type Program } from './serve';
import { settled } from './settled';
import { ask, said } from './told';

/** A page that is killed while the household has what it said, and the answer is still on its way. */

// A worker would carry requests past the tests' own answers.
test.use({ serviceWorkers: 'block' });

const kFoods = ['bean_snap', 'tomato', 'pear_european'];
/** Part of what the pages call each. */
const kNames = ['bean', 'tomato', 'pear'];
const kOnShelf = 60;
/** More than go in one request. */
const kTaps = 54;
const kInOne = 50;
/** Which of the foods the n-th tap takes from: an order that is not kept by chance. */
const foodOf = (n: number): number => (n * n + Math.floor(n / 7)) % 3;

const shelf = (food: string): Draft => {
  const common = { form: 'canned', pack: 'quart jar', place: 'cellar', note: '' };
  return {
    kind: 'put_by_before',
    what: { ...common, parcel: newId(), food, packs: kOnShelf, mass_g: 900 * kOnShelf },
  };
};

/** A page whose requests that carry entries go to `carry`, with their number from 0 on. */
async function opened(
  context: BrowserContext,
  address: string,
  carry: (route: Route, request: number) => Promise<void>,
): Promise<Page> {
  const page = await context.newPage();
  let request = 0;
  await page.route('**/api/v1/entries', (route) => carry(route, request++));
  await page.goto(address);
  return page;
}

/**
 * Opens a page that sends what waits, and kills it: its last request of `sizes` entries reaches the household, and
 * `lose` is all that becomes of the answer.
 */
async function killedWhileSending(
  context: BrowserContext,
  address: string,
  sizes: number[],
  lose: (route: Route) => Promise<void>,
): Promise<void> {
  const sent: number[] = [];
  let page: Page | undefined;
  await new Promise<void>((resolve, reject) => {
    const carry = async (route: Route, request: number): Promise<void> => {
      if (request >= sizes.length) return route.abort();
      sent.push((route.request().postDataJSON() as Entry[]).length);
      if (request < sizes.length - 1) return route.continue();
      const answer = await route.fetch();
      await lose(route);
      return answer.ok() ? resolve() : reject(new Error(await answer.text()));
    };
    opened(context, address, carry).then((one) => (page = one), reject);
  });
  expect(sent).toEqual(sizes);
  if (!page) throw new Error('no page was opened');
  await killed(page);
}

/** What was taken, oldest first, by the place of its food among the foods. */
async function taken(program: Program): Promise<number[]> {
  const lines = await ask<HistoryLine[]>(program, '/history');
  const words = lines.map((line) => line.words).filter((line) => line.startsWith('Took'));
  return words.reverse().map((line) => kNames.findIndex((name) => line.includes(name)));
}

test('a page killed twice in the middle of sending: everything arrives once, in order', async ({
  program,
  context,
}) => {
  await settled(program.address);
  await said(program, kFoods.map(shelf));
  const larder = `${program.address}/larder`;
  const wanted = Array.from({ length: kTaps }, (_, n) => foodOf(n));
  const waits = (n: number): string => `${n} changes wait to be sent.`;

  const first = await opened(context, larder, (route) => route.abort());
  await expect(first.locator('.pack .take').first()).toBeVisible();
  // As quickly as a page can be tapped, and quicker.
  await first.evaluate(
    ([foods, names]) => {
      for (const food of foods) document.querySelector<HTMLElement>(`.take[aria-label*="${names[food]}"]`)?.click();
    },
    [wanted, kNames] as const,
  );
  await expect(first.getByText(waits(kTaps))).toBeVisible();
  await killed(first);
  expect(await taken(program)).toEqual([]);

  // The household has the first fifty, and the connection is cut.
  await killedWhileSending(context, larder, [kInOne], (route) => route.abort());
  expect(await taken(program)).toEqual(wanted.slice(0, kInOne));
  // The same fifty again, answered; the household has the rest too, and its answer never comes.
  await killedWhileSending(context, larder, [kInOne, kTaps - kInOne], async () => undefined);
  expect(await taken(program)).toEqual(wanted);

  const last = await opened(context, larder, (route) => route.continue());
  await expect(last.locator('.standing')).toBeHidden();
  const left = kFoods.map((_, food) => kOnShelf - wanted.filter((one) => one === food).length);
  const counts = async (): Promise<string[]> => last.locator('.pack .count').allTextContents();
  await expect.poll(async () => [...new Set(await counts())].toSorted()).toEqual(left.map(String).toSorted());
  expect(await taken(program)).toEqual(wanted);
  const { shelves } = await ask<LarderView>(program, '/larder');
  const packs = shelves.flatMap((one) => one.packs).map((pack) => pack.packs);
  expect(packs.toSorted()).toEqual(left.toSorted());
  expect((await ask<DayView>(program, '/day')).discrepancies).toEqual([]);
});
