import { afterEach, expect, test, vi } from 'vitest';

import { NotNow, Rejected } from '../shared/outbox';
import { get } from './client';

afterEach(() => {
  vi.unstubAllGlobals();
});

function answers(body: string, status = 200): void {
  vi.stubGlobal('fetch', () => Promise.resolve(new Response(body, { status })));
}

test('an answer that was cut off half way is no answer', async () => {
  answers('{"lots":[{"name":"pea');
  await expect(get('/snapshot')).rejects.toThrow(SyntaxError);
});

test('the household’s own no is told from a broken door in between', async () => {
  answers('{"code":"no_lot","message":"There is no such lot."}', 404);
  await expect(get('/lots/x')).rejects.toBeInstanceOf(Rejected);
  answers('<html>Bad gateway</html>', 502);
  await expect(get('/lots/x')).rejects.toBeInstanceOf(TypeError);
});

test.each([401, 403, 408, 429, 500, 503])('a refusal with status %i is no word on what was asked', async (status) => {
  answers('{"code":"busy","message":"Not now."}', status);
  await expect(get('/day')).rejects.toBeInstanceOf(NotNow);
});

test('a device that is not let in is led to the page where it is paired', async () => {
  const assign = vi.fn();
  vi.stubGlobal('location', { pathname: '/larder', assign });
  answers('{"code":"not_paired","message":"Not let in."}', 401);
  await expect(get('/day')).rejects.toBeInstanceOf(NotNow);
  expect(assign).toHaveBeenCalledWith('/pair');
});

test('a refusal of what was asked is final', async () => {
  answers('{"code":"bad_entry","message":"It cannot be read."}', 422);
  await expect(get('/day')).rejects.not.toBeInstanceOf(NotNow);
});
