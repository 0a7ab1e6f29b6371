import type { LarderView, Snapshot } from '../src/api/types';
import { expect, test } from './serve';
import { settled } from './settled';

/** The real program: a cellar counted where there is no signal, the page killed half way. */

const kPacks = 40;

test('forty packs counted in the cellar without a signal, the page killed half way: nothing lost or doubled', async ({
  page: first,
  program,
  context,
}) => {
  test.setTimeout(150_000);
  await settled(program.address);
  const api = `${program.address}/api/v1`;
  const asked = async <T>(path: string): Promise<T> => (await (await fetch(`${api}${path}`)).json()) as T;
  const { places } = await asked<Snapshot>('/snapshot');
  const place = places.find((one) => one.kind === 'cellar') ?? places[0];
  const id = (letter: string, n: number): string => letter.repeat(30) + String(n).padStart(2, '0');
  const happened = new Date(Date.now() - 60_000).toISOString().slice(0, 19) + 'Z';
  const entries = Array.from({ length: kPacks }, (_, n) => ({
    v: 1,
    id: id('a', n),
    happened,
    who: '',
    live: true,
    kind: 'put_by_before',
    what: {
      parcel: id('b', n),
      food: 'tomato',
      form: `sauce ${n}`,
      pack: 'quart jar',
      packs: n + 2,
      mass_g: 1000 * (n + 2),
      place: place?.key,
      note: '',
    },
  }));
  const sent = await fetch(`${api}/entries`, {
    method: 'POST',
    headers: { 'content-type': 'application/json' },
    body: JSON.stringify(entries),
  });
  for (const one of (await sent.json()) as { stored: boolean; refusal: unknown }[]) {
    expect(one.stored, JSON.stringify(one.refusal)).toBe(true);
  }

  await first.goto(`${program.address}/stocktake`);
  await first.evaluate(() => navigator.serviceWorker.ready.then(() => undefined));
  await first.reload();
  await expect(first.getByRole('button', { name: new RegExp(place?.name ?? '', 'i') })).toBeVisible();
  await first.waitForFunction(async () => (await caches.keys()).length === 1);

  await context.setOffline(true);
  await program.stop();
  await first.goto(`${program.address}/stocktake`);
  await first.getByRole('button', { name: new RegExp(place?.name ?? '', 'i') }).click();
  // Every third one jar is missing.
  const count = async (page: typeof first, from: number, to: number): Promise<void> => {
    for (let n = from; n < to; n += 1) {
      await expect(page.getByText(`${n + 1} of ${kPacks}`)).toBeVisible();
      if (n % 3 === 0) await page.getByRole('button', { name: 'One fewer' }).click();
      await page.locator('.thumb-bar .main').click();
    }
  };
  await count(first, 0, 19);
  // Killed in the very moment of an answer.
  await first.locator('.thumb-bar .main').click({ noWaitAfter: true });
  await first.close();

  const page = await context.newPage();
  await page.goto(`${program.address}/stocktake`);
  await page.getByRole('button', { name: /^Go on with/ }).click();
  await count(page, 20, kPacks);
  await expect(page.getByRole('heading', { name: 'What differed' })).toBeVisible();
  await expect(page.locator('.stocktake .plain li')).toHaveCount(14);
  await expect(page.getByText(`${kPacks} changes wait to be sent.`)).toBeVisible();

  await program.start();
  await context.setOffline(false);
  await expect(page.getByText(`${kPacks} changes wait to be sent.`)).toBeHidden({ timeout: 40_000 });
  const larder = await asked<LarderView>('/larder');
  const packs = larder.shelves.flatMap((shelf) => shelf.packs);
  const left = packs.reduce((sum, one) => sum + one.packs, 0);
  const before = entries.reduce((sum, one) => sum + one.what.packs, 0);
  expect(packs).toHaveLength(kPacks);
  expect(left).toBe(before - 14);
  const history = await asked<{ words: string }[]>('/history');
  expect(history.filter((line) => /^Counted tomato/.test(line.words))).toHaveLength(kPacks);
});
