import { useEffect, useState } from 'preact/hooks';

import { get, sendEntries } from '../api/client';
import type { DayView, Refusal } from '../api/types';
import { householdNow, setClock } from './clock';
import type { Entry } from './entries';
import { NotNow, Outbox, Rejected, type Drawn } from './outbox';
import { openStore, type StoredView, type Turned, type Waiting } from './store';

/** The phone's store and outbox: one of each for the page. */
export const store = openStore();
export const outbox = new Outbox(store, sendEntries, householdNow);

const kDay = '/day';

/** Every look at one moment, for pages that were not opened before the signal was lost. */
const kLooks = '/looks';
interface LooksView {
  looks: Record<string, unknown>;
}
/** A look that was not seen again for so long is of a lot or batch that is over. */
const kForgetMs = 60 * 86_400_000;

/** What a page knows of one view. */
export interface Seen<T> {
  data: T | null;
  /** When `data` left the household, milliseconds of this device's clock. */
  at: number;
  /** When it was asked for: what landed later is not surely in it. */
  asked: number;
  /** True when it could not be asked for just now, and `data` is the last look. */
  offline: boolean;
  /** True when `data` has come from the household since this page opened. */
  fresh: boolean;
  /** The household's own no: "no such lot". */
  refusal: Refusal | null;
  /** Why it would not answer just now, when it said so: "this device is not paired". */
  trouble: Refusal | null;
}

const kNothing: Seen<unknown> = {
  data: null,
  at: 0,
  asked: 0,
  offline: false,
  fresh: false,
  refusal: null,
  trouble: null,
};

class Watched {
  seen = kNothing;
  readonly listeners = new Set<() => void>();
  #flight: AbortController | null = null;
  readonly path: string;

  constructor(path: string) {
    this.path = path;
  }

  /** Draws the last look at once, and asks for a new one behind it. */
  async load(): Promise<void> {
    this.#flight?.abort();
    const flight = new AbortController();
    this.#flight = flight;
    const kept = this.#recall();
    try {
      const { data, asked } = await lookAt(this.path, flight.signal);
      if (flight.signal.aborted) return;
      const at = Date.now();
      if (this.path === kDay) setClock((data as DayView).household.now_utc, at);
      this.#set({ ...kNothing, data, at, asked, fresh: true });
      void keep([{ path: this.path, asked, at, body: data }]);
    } catch (error) {
      if (flight.signal.aborted) return;
      const trouble = error instanceof NotNow ? error.refusal : null;
      if (error instanceof Rejected && !trouble) {
        this.#set({ ...kNothing, fresh: true, refusal: error.refusal });
      } else {
        await kept;
        this.#set({ ...this.seen, offline: true, trouble });
      }
    }
  }

  stop(): void {
    this.#flight?.abort();
  }

  /** The look kept on this device, unless there is a newer one here. */
  async #recall(): Promise<void> {
    if (this.seen.data !== null) return;
    const kept = await store.then((db) => db.get('views', this.path)).catch(() => undefined);
    if (!kept || this.seen.data !== null || this.seen.refusal !== null) return;
    this.#set({ ...this.seen, data: kept.body, at: kept.at, asked: kept.asked });
  }

  /** A look that came with others. */
  bring(data: unknown, asked: number, at: number): void {
    if (this.seen.asked < asked && this.seen.data !== null) this.#set({ ...kNothing, data, asked, at, fresh: true });
  }

  #set(seen: Seen<unknown>): void {
    this.seen = seen;
    for (const listener of this.listeners) listener();
  }
}

/**
 * Asks for a view while nothing is on its way there: whether a look that crosses a change has it in it could not be
 * told, and it would be drawn twice or not at all.
 */
async function lookAt(path: string, signal?: AbortSignal): Promise<{ data: unknown; asked: number }> {
  for (;;) {
    await outbox.quiet();
    const runs = outbox.runs;
    const asked = Date.now();
    const data = await get<unknown>(path, signal);
    if (outbox.runs === runs || signal?.aborted) return { data, asked };
  }
}

async function keep(looks: StoredView[]): Promise<void> {
  const db = await store;
  const write = db.transaction('views', 'readwrite');
  await Promise.all([...looks.map((look) => write.store.put(look)), write.done]);
}

const watched = new Map<string, Watched>();

function watch(path: string): Watched {
  const known = watched.get(path);
  if (known) return known;
  const made = new Watched(path);
  watched.set(path, made);
  return made;
}

/** Asks again for everything that is on screen. */
export function refresh(): void {
  for (const one of watched.values()) if (one.listeners.size > 0) void one.load();
}

/** A view of the household, kept fresh while it is on screen. An empty path asks for nothing. */
export function useView<T>(path: string): Seen<T> {
  const [, again] = useState(0);
  useEffect(() => {
    if (path === '') return undefined;
    const one = watch(path);
    const listener = (): void => again((n) => n + 1);
    one.listeners.add(listener);
    void one.load();
    listener();
    return () => {
      one.listeners.delete(listener);
      if (one.listeners.size === 0) one.stop();
    };
  }, [path]);
  const seen = path === '' ? null : watch(path).seen;
  return (seen ?? kNothing) as Seen<T>;
}

export const useDay = (): Seen<DayView> => useView<DayView>(kDay);

/** `read` now and after every change of the outbox. */
function useOutbox<T>(read: () => Promise<T>, first: T): T {
  const [value, setValue] = useState(first);
  useEffect(() => {
    let gone = false;
    const again = (): void => {
      void read().then((now) => {
        if (!gone) setValue(now);
      });
    };
    again();
    const stop = outbox.onChange(again);
    return () => {
      gone = true;
      stop();
    };
  }, []);
  return value;
}

/** Changes made on this device that the household has not heard of yet, oldest first. */
export const useWaiting = (): Waiting[] => useOutbox(() => outbox.waiting(), []);
/** Changes made on this device that the household would not take. */
export const useTurned = (): Turned[] => useOutbox(() => outbox.turned(), []);

/** Changes of this device to draw over a look: those that wait, and those that landed after it was asked for. */
export function usePending({ asked }: { asked: number }): Entry[] {
  return pendingOver(
    useOutbox<Drawn[]>(() => outbox.drawn(), []),
    asked,
  );
}

export function pendingOver(drawn: Drawn[], asked: number): Entry[] {
  const over = drawn.filter((one) => one.landed === 0 || one.landed > asked).map((one) => one.entry);
  const undone = new Set(
    over.map((entry) => (entry.kind === 'undone' ? (entry.what as { entry: string }).entry : '')),
  );
  return over.filter((entry) => !undone.has(entry.id));
}

/**
 * Takes every look there is at one moment, so that whatever is open in the household opens here without a signal,
 * visited before or not, and forgets looks that were not seen for long.
 */
export async function keepForOffline(): Promise<void> {
  try {
    const { data, asked } = await lookAt(kLooks);
    const at = Date.now();
    const looks = Object.entries((data as LooksView).looks);
    await keep(looks.map(([path, body]) => ({ path, asked, at, body })));
    const db = await store;
    for (const one of await db.getAll('views')) {
      if (one.at < at - kForgetMs) await db.delete('views', one.path);
    }
    for (const [path, body] of looks) watched.get(path)?.bring(body, asked, at);
  } catch {
    // What was kept before is still there.
  }
}
