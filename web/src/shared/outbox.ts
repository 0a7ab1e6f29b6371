import type { Received, Refusal } from '../api/types';
import { makeEntry, type Draft, type Entry } from './entries';
import type { Store, Waiting } from './store';

/** What became of a change. `stored`: in the household file. `waiting`: kept here until there is a connection. */
export type Outcome =
  | { how: 'stored'; entries: string[] }
  | { how: 'waiting'; entries: string[] }
  | { how: 'refused'; refusal: Refusal; entries: string[] };

/** The service answered, and would not take the request as a whole. */
export class Rejected extends Error {
  readonly refusal: Refusal;
  constructor(refusal: Refusal) {
    super(refusal.message);
    this.refusal = refusal;
  }
}

export type Send = (entries: Entry[]) => Promise<Received[]>;

const kBatch = 50;

/**
 * Every change a page makes goes through here: written to the phone's store first, then sent. What cannot be sent
 * waits as a fact (`live: false`), which the household always takes, and is sent in order once there is a
 * connection. Ids are made here, so sending twice stores once.
 */
export class Outbox {
  readonly #store: Promise<Store>;
  readonly #send: Send;
  readonly #now: () => number;
  #line: Promise<unknown> = Promise.resolve();
  readonly #listeners = new Set<() => void>();
  /** Person key put on every entry. */
  who = '';

  constructor(store: Promise<Store>, send: Send, now: () => number) {
    this.#store = store;
    this.#send = send;
    this.#now = now;
  }

  /** Called after anything here has changed; the answer stops it. */
  onChange(listener: () => void): () => void {
    this.#listeners.add(listener);
    return () => this.#listeners.delete(listener);
  }

  async waiting(): Promise<Waiting[]> {
    return (await this.#store).getAll('outbox');
  }

  /** Keeps the changes, tries to send them, and says what became of them. */
  async record(drafts: Draft[], words: string): Promise<Outcome> {
    const made = drafts.map((draft) => makeEntry(draft, this.who, this.#now()));
    const ids = made.map((entry) => entry.id);
    const db = await this.#store;
    const write = db.transaction('outbox', 'readwrite');
    for (const entry of made) await write.store.add({ entry, words });
    await write.done;
    const refusals = await this.flush();
    const refused = ids.map((id) => refusals.get(id)).find((refusal) => refusal !== undefined);
    if (refused) return { how: 'refused', refusal: refused, entries: ids };
    const left = new Set((await this.waiting()).map((waiting) => waiting.entry.id));
    return { how: ids.some((id) => left.has(id)) ? 'waiting' : 'stored', entries: ids };
  }

  /** Takes back a change that has not left this phone. False when it has. */
  async takeBack(ids: string[]): Promise<boolean> {
    const db = await this.#store;
    const waiting = await db.getAll('outbox');
    const mine = waiting.filter((one) => ids.includes(one.entry.id));
    if (mine.length !== ids.length) return false;
    for (const one of mine) if (one.order !== undefined) await db.delete('outbox', one.order);
    this.#tell();
    return true;
  }

  /** Sends what waits, oldest first, one run at a time. Refusals by entry id. */
  flush(): Promise<Map<string, Refusal>> {
    const run = this.#line.then(() => withLock(() => this.#sendAll()));
    this.#line = run.catch(() => undefined);
    return run;
  }

  async #sendAll(): Promise<Map<string, Refusal>> {
    const refusals = new Map<string, Refusal>();
    const db = await this.#store;
    for (;;) {
      const batch = (await db.getAll('outbox')).slice(0, kBatch);
      if (batch.length === 0) break;
      if (!(await this.#sendSome(db, batch, refusals))) break;
    }
    this.#tell();
    return refusals;
  }

  /** False when there is no connection and the rest must wait. */
  async #sendSome(db: Store, batch: Waiting[], refusals: Map<string, Refusal>): Promise<boolean> {
    try {
      const answers = await this.#send(batch.map((one) => one.entry));
      const byId = new Map(answers.map((answer) => [answer.id, answer]));
      for (const one of batch) {
        const answer = byId.get(one.entry.id);
        if (!answer) throw new Rejected({ code: 'no_answer', message: 'The household gave no answer.', instead: [] });
        await this.#settle(db, one, answer.stored ? null : answer.refusal, refusals);
      }
      return true;
    } catch (error) {
      if (!(error instanceof Rejected)) {
        await markAsFacts(db, batch);
        return false;
      }
      // One bad entry must not hold up the rest: find it by sending them one by one.
      if (batch.length === 1 && batch[0]) {
        await this.#settle(db, batch[0], error.refusal, refusals);
        return true;
      }
      for (const one of batch) if (!(await this.#sendSome(db, [one], refusals))) return false;
      return true;
    }
  }

  async #settle(db: Store, one: Waiting, refusal: Refusal | null, refusals: Map<string, Refusal>): Promise<void> {
    if (refusal) {
      refusals.set(one.entry.id, refusal);
      // A live change is refused to the person's face; a fact was said long ago and is kept for them to see.
      if (!one.entry.live) {
        const { message, instead } = refusal;
        await db.put('turned', { id: one.entry.id, words: one.words, message, instead, at: this.#now() });
      }
    }
    if (one.order !== undefined) await db.delete('outbox', one.order);
  }

  #tell(): void {
    for (const listener of this.#listeners) listener();
  }
}

async function markAsFacts(db: Store, batch: Waiting[]): Promise<void> {
  for (const one of batch) {
    if (one.entry.live) await db.put('outbox', { ...one, entry: { ...one.entry, live: false } });
  }
}

/** Two open pages take turns, where the browser can see to it; sending twice would store once all the same. */
function withLock<T>(work: () => Promise<T>): Promise<T> {
  return 'locks' in navigator && navigator.locks ? navigator.locks.request('stillroom-outbox', work) : work();
}
