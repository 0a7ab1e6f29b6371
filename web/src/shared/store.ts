import { openDB, type DBSchema, type IDBPDatabase } from 'idb';

import type { Entry } from './entries';

/** One change on its way to the household file. */
export interface Waiting {
  /** Order in which it was made; given by the database. */
  order?: number;
  entry: Entry;
  /** What it was, in words, for the list of what waits. */
  words: string;
}

/** A change the household would not take, kept so that nothing a person said is lost. */
export interface Turned {
  id: string;
  /** As it was said, so that it can be said again. */
  entry: Entry;
  words: string;
  message: string;
  instead: string[];
  at: number;
}

export interface StoredView {
  path: string;
  /** When it was asked for and when it came, milliseconds of this device's clock. */
  asked: number;
  at: number;
  body: unknown;
}

interface Shape extends DBSchema {
  outbox: { key: number; value: Waiting };
  turned: { key: string; value: Turned };
  views: { key: string; value: StoredView };
}

export type Store = IDBPDatabase<Shape>;

/** This phone's own store: what waits to be sent, what was turned down, and the last look at each page. */
export function openStore(name = 'stillroom'): Promise<Store> {
  return openDB<Shape>(name, 1, {
    upgrade(db) {
      db.createObjectStore('outbox', { keyPath: 'order', autoIncrement: true });
      db.createObjectStore('turned', { keyPath: 'id' });
      db.createObjectStore('views', { keyPath: 'path' });
    },
  });
}
