import type { Received, Refusal } from '../api/types';
import { makeEntry, type Draft, type Entry } from './entries';
import type { Store, Turned, Waiting } from './store';

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

/**
 * The service answered, but not about what was sent: this device is not let in, it is busy, its disk is full. Asking
 * again later may succeed, so what was said waits.
 */
export class NotNow extends Rejected {}

export type Send = (entries: Entry[]) => Promise<Received[]>;

/** What the page draws over its last look. `landed`: when the household had it, milliseconds of this device; 0 while it waits. */
export interface Drawn {
  entry: Entry;
  landed: number;
}

const kBatch = 50;
/** The household could not write down this one just now: no word on the entry itself. */
const kNotFinal = new Set(['busy', 'file_busy', 'disk_full', 'disk_trouble', 'read_only']);
/** Looks are asked for again after each change: what landed longer ago is in them. */
const kDrawnMs = 120_000;

/**
 * Every change a page makes goes through here: written to the phone's store first, then sent. In the store it is a
 * fact (`live: false`), which the household always takes: whoever finds it there was not the one who made it, or made
 * it long ago. Only the page that made it sends it live, once, so that it can be refused to the person's face. What
 * cannot be sent waits and goes in order once there is a connection. Ids are made here, so sending twice stores once.
 */
export class Outbox {
  readonly #store: Promise<Store>;
  readonly #send: Send;
  readonly #now: () => number;
  #line: Promise<unknown> = Promise.resolve();
  /** The run that has not begun yet: whoever asks meanwhile is served by it. */
  #next: Promise<Map<string, Refusal>> | null = null;
  readonly #listeners = new Set<() => void>();
  readonly #live = new Set<string>();
  #landed: Drawn[] = [];
  /** Why the household took nothing, the last time it was asked; null when it did, or could not be reached. */
  trouble: Refusal | null = null;
  /** Counts what was sent: a look asked for before and answered after may or may not have it. */
  runs = 0;
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

  /** What waits, and what has landed so lately that a look may not have it yet, oldest first. */
  async drawn(): Promise<Drawn[]> {
    const waiting = (await this.waiting()).map(({ entry }) => ({ entry, landed: 0 }));
    this.#landed = this.#landed.filter((one) => one.landed > Date.now() - kDrawnMs);
    const there = new Set(waiting.map((one) => one.entry.id));
    return [...this.#landed.filter((one) => !there.has(one.entry.id)), ...waiting];
  }

  async turned(): Promise<Turned[]> {
    return (await this.#store).getAll('turned');
  }

  /** Forgets what was turned down: it was read, or said again. */
  async dismiss(id: string): Promise<void> {
    await (await this.#store).delete('turned', id);
    this.#tell();
  }

  /** Keeps the changes, shows them at once, tries to send them, and says what became of them. */
  async record(drafts: Draft[], words: string): Promise<Outcome> {
    const made = drafts.map((draft) => makeEntry(draft, this.who, this.#now()));
    const ids = made.map((entry) => entry.id);
    const db = await this.#store;
    const write = db.transaction('outbox', 'readwrite');
    const adds = made.map((entry) => write.store.add({ entry: { ...entry, live: false }, words }));
    for (const id of ids) this.#live.add(id);
    await Promise.all([...adds, write.done]);
    this.#tell();
    const refusals = await this.flush();
    // Whatever was not taken by now is a fact: its moment is past.
    for (const id of ids) this.#live.delete(id);
    const refused = ids.map((id) => refusals.get(id)).find((refusal) => refusal !== undefined);
    if (refused) return { how: 'refused', refusal: refused, entries: ids };
    const left = new Set((await this.waiting()).map((waiting) => waiting.entry.id));
    return { how: ids.some((id) => left.has(id)) ? 'waiting' : 'stored', entries: ids };
  }

  /** Takes back a change that has not left this phone. False when it has. */
  takeBack(ids: string[]): Promise<boolean> {
    return this.#inTurn(async () => {
      const db = await this.#store;
      const mine = (await db.getAll('outbox')).filter((one) => ids.includes(one.entry.id));
      if (mine.length !== ids.length) return false;
      for (const one of mine) if (one.order !== undefined) await db.delete('outbox', one.order);
      this.#tell();
      return true;
    });
  }

  /** Sends what waits, oldest first, one run at a time. Refusals by entry id. */
  flush(): Promise<Map<string, Refusal>> {
    this.#next ??= this.#inTurn(() => {
      this.#next = null;
      return this.#sendAll();
    });
    return this.#next;
  }

  /** Resolves when nothing is on its way. */
  async quiet(): Promise<void> {
    await this.#line;
  }

  #inTurn<T>(work: () => Promise<T>): Promise<T> {
    const run = this.#line.then(() => withLock(work));
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

  /** False when the rest must wait. */
  async #sendSome(db: Store, batch: Waiting[], refusals: Map<string, Refusal>): Promise<boolean> {
    this.runs += 1;
    try {
      const answers = await this.#send(batch.map(({ entry }) => ({ ...entry, live: this.#live.has(entry.id) })));
      this.trouble = null;
      const byId = new Map(answers.map((answer) => [answer.id, answer]));
      for (const one of batch) {
        const answer = byId.get(one.entry.id);
        if (!answer) throw new TypeError('no answer for an entry');
        const refusal = answer.stored ? null : answer.refusal;
        if (refusal && kNotFinal.has(refusal.code)) throw new NotNow(refusal);
        await this.#settle(db, one, answer.stored, refusal, refusals);
      }
      return true;
    } catch (error) {
      if (!(error instanceof Rejected) || error instanceof NotNow) {
        this.trouble = error instanceof NotNow ? error.refusal : null;
        return false;
      }
      // One bad entry must not hold up the rest: find it by sending them one by one.
      if (batch.length === 1 && batch[0]) {
        await this.#settle(db, batch[0], false, error.refusal, refusals);
        return true;
      }
      for (const one of batch) if (!(await this.#sendSome(db, [one], refusals))) return false;
      return true;
    }
  }

  async #settle(
    db: Store,
    one: Waiting,
    stored: boolean,
    refusal: Refusal | null,
    refusals: Map<string, Refusal>,
  ): Promise<void> {
    const { entry, words } = one;
    if (stored) {
      this.#landed.push({ entry, landed: Date.now() });
    } else {
      const { code, message, instead } = refusal ?? { code: 'refused', message: '', instead: [] };
      refusals.set(entry.id, { code, message, instead });
      // A live change is refused to the person's face; a fact was said long ago and is kept for them to see.
      if (!this.#live.has(entry.id)) {
        await db.put('turned', { id: entry.id, entry, words, message, instead, at: this.#now() });
      }
    }
    if (one.order !== undefined) await db.delete('outbox', one.order);
  }

  #tell(): void {
    for (const listener of this.#listeners) listener();
  }
}

/** Two open pages take turns, where the browser can see to it; sending twice would store once all the same. */
function withLock<T>(work: () => Promise<T>): Promise<T> {
  return 'locks' in navigator && navigator.locks ? navigator.locks.request('stillroom-outbox', work) : work();
}
