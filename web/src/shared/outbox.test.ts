import { beforeEach, describe, expect, it } from 'vitest';

import type { Received } from '../api/types';
import type { Draft, Entry } from './entries';
import { Outbox, Rejected } from './outbox';
import { openStore, type Store } from './store';

const take = (parcel: string): Draft => ({ kind: 'taken', what: { parcel, packs: 1, why: '' } });
const kNow = Date.parse('2026-09-16T12:40:00Z');
const all = (entries: Entry[]): Received[] => entries.map(({ id }) => ({ id, stored: true, refusal: null }));

let store: Store;
let sent: Entry[][];
let answer: (entries: Entry[]) => Received[];
let n = 0;

function outbox(): Outbox {
  return new Outbox(
    Promise.resolve(store),
    (entries) => {
      sent.push(structuredClone(entries));
      return new Promise((resolve) => resolve(answer(entries)));
    },
    () => kNow,
  );
}
const offline = (): Received[] => {
  throw new TypeError('no connection');
};

beforeEach(async () => {
  store = await openStore(`outbox-${(n += 1)}`);
  sent = [];
  answer = all;
});

describe('a change', () => {
  it('is sent at once, live, with an id of 32 hex digits and the household’s time', async () => {
    const outcome = await outbox().record([take('a')], 'took one');
    expect(outcome.how).toBe('stored');
    const entry = sent[0]?.[0];
    expect(entry?.id).toMatch(/^[0-9a-f]{32}$/);
    expect(entry).toMatchObject({ v: 1, live: true, kind: 'taken', happened: '2026-09-16T12:40:00Z', who: '' });
    expect(await store.getAll('outbox')).toEqual([]);
  });

  it('is kept as a fact when there is no connection, and sent once, in order, when there is', async () => {
    answer = offline;
    const box = outbox();
    expect((await box.record([take('a')], 'first')).how).toBe('waiting');
    expect((await box.record([take('b')], 'second')).how).toBe('waiting');
    sent = [];
    answer = all;
    await box.flush();
    await box.flush();
    expect(sent).toHaveLength(1);
    expect(sent[0]?.map((entry) => entry.live)).toEqual([false, false]);
    expect(sent[0]?.map((entry) => (entry.what as { parcel: string }).parcel)).toEqual(['a', 'b']);
  });

  it('keeps its id when the answer was lost and it is sent again', async () => {
    answer = offline;
    const box = outbox();
    await box.record([take('a')], 'took one');
    answer = all;
    await box.flush();
    expect(sent[1]?.[0]?.id).toBe(sent[0]?.[0]?.id);
  });

  it('survives a closed page', async () => {
    answer = offline;
    await outbox().record([take('a')], 'took one');
    answer = all;
    await outbox().flush();
    expect(sent.at(-1)).toHaveLength(1);
  });

  it('that is refused is said so and not kept', async () => {
    const refusal = { code: 'more_packs_than_made', message: 'There are only 2.', instead: ['Count them.'] };
    answer = (entries) => entries.map(({ id }) => ({ id, stored: false, refusal }));
    const outcome = await outbox().record([take('a')], 'took one');
    expect(outcome).toMatchObject({ how: 'refused', refusal });
    expect(await store.getAll('outbox')).toEqual([]);
  });

  it('that the household cannot read does not hold up the others, and is kept to be seen', async () => {
    answer = offline;
    const box = outbox();
    await box.record([take('bad')], 'the bad one');
    await box.record([take('good')], 'the good one');
    answer = (entries) => {
      const bad = entries.some((entry) => (entry.what as { parcel: string }).parcel === 'bad');
      if (bad) throw new Rejected({ code: 'bad_entry', message: 'It cannot be read.', instead: [] });
      return all(entries);
    };
    await box.flush();
    expect(await store.getAll('outbox')).toEqual([]);
    expect(await store.getAll('turned')).toMatchObject([{ words: 'the bad one', message: 'It cannot be read.' }]);
    expect(sent.at(-1)?.map((entry) => (entry.what as { parcel: string }).parcel)).toEqual(['good']);
  });

  it('that has not left can be taken back without a trace', async () => {
    answer = offline;
    const box = outbox();
    const outcome = await box.record([take('a')], 'took one');
    expect(await box.takeBack(outcome.entries)).toBe(true);
    expect(await store.getAll('outbox')).toEqual([]);
    answer = all;
    const later = await box.record([take('b')], 'took one');
    expect(await box.takeBack(later.entries)).toBe(false);
  });
});
