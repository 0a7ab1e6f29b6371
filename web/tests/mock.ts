import type { Page } from '@playwright/test';

import * as book from './book_fixtures';
import * as fixtures from './fixtures';

/** Answers the pages' questions from the fixtures, with no household behind them. */
export async function mockHousehold(page: Page, change: Partial<Record<string, unknown>> = {}): Promise<void> {
  const answers: Record<string, unknown> = {
    '/day': fixtures.day,
    '/ahead': fixtures.ahead,
    '/help/ann': fixtures.help,
    '/larder': fixtures.larder,
    '/snapshot': fixtures.snapshot,
    '/settings': fixtures.settings,
    '/start': fixtures.start,
    '/history': fixtures.history,
    '/learned': fixtures.learned,
    '/lots/pears': fixtures.lot,
    '/lots/pears/why': fixtures.why,
    '/batches/b1': fixtures.batch,
    '/batches/draft': { card: { ...fixtures.batch, current: 0 }, entry: { batch: 'b1' } },
    '/process': book.process,
    '/recipes': book.recipes,
    '/recipes/salsa': book.recipe,
    '/recipes/jelly': book.leafletJelly,
    '/recipes/pear': book.crop,
    ...change,
  };
  await page.route('**/api/v1/**', async (route) => {
    const path = new URL(route.request().url()).pathname.replace('/api/v1', '');
    if (path === '/events') {
      await route.fulfill({ status: 503, body: '' });
    } else if (path === '/entries') {
      const entries = route.request().postDataJSON() as { id: string }[];
      await route.fulfill({ json: entries.map(({ id }) => ({ id, stored: true, refusal: null })) });
    } else if (path in answers) {
      await route.fulfill({ json: answers[path] });
    } else {
      await route.fulfill({
        status: 404,
        json: { ok: false, code: 'unknown', message: 'Nothing is known of that.', instead: [] },
      });
    }
  });
}
