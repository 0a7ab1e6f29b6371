import { afterEach, expect, test, vi } from 'vitest';

import { Rejected } from '../shared/outbox';
import { get } from './client';

afterEach(() => {
  vi.unstubAllGlobals();
});

const answers = (body: string, status = 200): void => {
  vi.stubGlobal('fetch', () => Promise.resolve(new Response(body, { status })));
};

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
