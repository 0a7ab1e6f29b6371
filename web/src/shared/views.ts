import { useEffect, useState } from 'preact/hooks';

import { get, sendEntries } from '../api/client';
import type { DayView, Refusal } from '../api/types';
import { householdNow, setClock } from './clock';
import { Outbox, Rejected } from './outbox';
import { openStore, type Waiting } from './store';

/** The phone's store and outbox: one of each for the page. */
export const store = openStore();
export const outbox = new Outbox(store, sendEntries, householdNow);

const kDay = '/day';

/** What a page knows of one view. */
export interface Seen<T> {
  data: T | null;
  /** When `data` left the household, milliseconds of this device's clock. */
  at: number;
  /** True when it could not be asked for just now, and `data` is the last look. */
  offline: boolean;
  /** The household's own no: "no such lot". */
  refusal: Refusal | null;
}

class Watched {
  seen: Seen<unknown> = { data: null, at: 0, offline: false, refusal: null };
  readonly listeners = new Set<() => void>();
  #flight: AbortController | null = null;
  readonly path: string;

  constructor(path: string) {
    this.path = path;
  }

  async load(): Promise<void> {
    this.#flight?.abort();
    const flight = new AbortController();
    this.#flight = flight;
    try {
      const data = await get<unknown>(this.path, flight.signal);
      const at = Date.now();
      if (this.path === kDay) setClock((data as DayView).household.now_utc, at);
      this.#set({ data, at, offline: false, refusal: null });
      void store.then((db) => db.put('views', { path: this.path, at, body: data }));
    } catch (error) {
      if (flight.signal.aborted) return;
      if (error instanceof Rejected) {
        this.#set({ data: null, at: 0, offline: false, refusal: error.refusal });
      } else {
        await this.#fallBack();
      }
    }
  }

  stop(): void {
    this.#flight?.abort();
  }

  async #fallBack(): Promise<void> {
    if (this.seen.data !== null) {
      this.#set({ ...this.seen, offline: true });
      return;
    }
    const kept = await store.then((db) => db.get('views', this.path)).catch(() => undefined);
    this.#set({ data: kept?.body ?? null, at: kept?.at ?? 0, offline: true, refusal: null });
  }

  #set(seen: Seen<unknown>): void {
    this.seen = seen;
    for (const listener of this.listeners) listener();
  }
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
  return (seen ?? { data: null, at: 0, offline: false, refusal: null }) as Seen<T>;
}

export const useDay = (): Seen<DayView> => useView<DayView>(kDay);

/** Changes made on this device that the household has not heard of yet, oldest first. */
export function useWaiting(): Waiting[] {
  const [waiting, setWaiting] = useState<Waiting[]>([]);
  useEffect(() => {
    let gone = false;
    const read = (): void => {
      void outbox.waiting().then((all) => {
        if (!gone) setWaiting(all);
      });
    };
    read();
    const stop = outbox.onChange(read);
    return () => {
      gone = true;
      stop();
    };
  }, []);
  return waiting;
}

/** Looks at these views once so that they open where there is no signal. */
export async function keepForOffline(paths: string[]): Promise<void> {
  const db = await store;
  for (const path of paths) {
    try {
      await db.put('views', { path, at: Date.now(), body: await get<unknown>(path) });
    } catch {
      return;
    }
  }
}
