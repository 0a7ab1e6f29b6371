import { beforeEach, describe, expect, it } from 'vitest';

import type { Received } from '../api/types';
import type { Draft, Entry } from './entries';
import { NotNow, Outbox, Rejected } from './outbox';
import { openStore, type Store } from './store';
import { pendingOver } from './views';

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

  const refusal = { code: 'more_than_there', message: 'None is left.', instead: ['Count them.'] };
  const refused = (entries: Entry[]): Received[] => entries.map(({ id }) => ({ id, stored: false, refusal }));

  it('whose page was killed while it was sent is a fact, and kept to be seen when it is refused', async () => {
    answer = () => new Promise(() => undefined) as never;
    void outbox().record([take('a')], 'took one');
    await expect.poll(() => sent.length).toBe(1);
    answer = refused;
    await outbox().flush();
    expect(sent.at(-1)?.[0]).toMatchObject({ live: false, id: sent[0]?.[0]?.id });
    expect(await store.getAll('outbox')).toEqual([]);
    expect(await store.getAll('turned')).toMatchObject([{ words: 'took one', message: 'None is left.' }]);
    expect((await store.getAll('turned'))[0]?.entry).toMatchObject({ kind: 'taken', what: { parcel: 'a' } });
  });

  it('waits when this device is not let in, and the reason is there to be said', async () => {
    const box = outbox();
    answer = () => {
      throw new NotNow({ code: 'not_paired', message: 'Pair this device again.', instead: [] });
    };
    expect((await box.record([take('a')], 'took one')).how).toBe('waiting');
    expect(box.trouble?.message).toBe('Pair this device again.');
    answer = all;
    await box.flush();
    expect(box.trouble).toBeNull();
    expect(await store.getAll('outbox')).toEqual([]);
    expect(sent.at(-1)?.[0]?.live).toBe(false);
  });

  it.each(['disk_full', 'disk_trouble', 'file_busy', 'read_only'])(
    'waits when the household could not write it down: %s',
    async (code) => {
      answer = (entries) => entries.map(({ id }) => ({ id, stored: false, refusal: { ...refusal, code } }));
      const box = outbox();
      expect((await box.record([take('a')], 'took one')).how).toBe('waiting');
      expect(await store.getAll('outbox')).toHaveLength(1);
      expect(await store.getAll('turned')).toEqual([]);
    },
  );

  it('is there to be drawn before anybody has answered, and withdrawn when it is refused', async () => {
    let reply: (answers: Received[]) => void = () => undefined;
    const box = new Outbox(
      Promise.resolve(store),
      (entries) => {
        sent.push(entries);
        return new Promise((resolve) => (reply = resolve));
      },
      () => kNow,
    );
    const drawn: number[] = [];
    box.onChange(() => void box.drawn().then((all) => drawn.push(all.length)));
    const recording = box.record([take('a')], 'took one');
    await expect.poll(() => sent.length).toBe(1);
    expect(drawn).toEqual([1]);
    reply(refused(sent[0] ?? []));
    expect((await recording).how).toBe('refused');
    expect(await box.drawn()).toEqual([]);
  });

  it('stays drawn over looks that were asked for before it landed, and over no later one', async () => {
    const before = Date.now() - 1;
    const box = outbox();
    await box.record([take('a')], 'took one');
    const drawn = await box.drawn();
    expect(pendingOver(drawn, before)).toHaveLength(1);
    expect(pendingOver(drawn, Date.now() + 1)).toEqual([]);
  });

  it('made while others are on their way goes with the next sending, all of them in one', async () => {
    let reply: (() => void)[] = [];
    const box = new Outbox(
      Promise.resolve(store),
      (entries) => {
        sent.push(entries);
        return new Promise((resolve) => reply.push(() => resolve(all(entries))));
      },
      () => kNow,
    );
    const first = box.record([take('a')], 'one');
    await expect.poll(() => sent.length).toBe(1);
    const rest = ['b', 'c', 'd'].map((parcel) => box.record([take(parcel)], parcel));
    await expect.poll(async () => (await box.waiting()).length).toBe(4);
    reply[0]?.();
    await expect.poll(() => sent.length).toBe(2);
    expect(sent[1]?.map((entry) => [(entry.what as { parcel: string }).parcel, entry.live])).toEqual([
      ['b', true],
      ['c', true],
      ['d', true],
    ]);
    reply[1]?.();
    reply = [];
    expect((await first).how).toBe('stored');
    expect((await Promise.all(rest)).map((one) => one.how)).toEqual(['stored', 'stored', 'stored']);
  });
});
