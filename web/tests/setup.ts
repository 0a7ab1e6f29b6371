// What a browser has and Node has not, for the unit tests: a store, and a memory of small settings.
import 'fake-indexeddb/auto';

const kept = new Map<string, string>();
Object.assign(globalThis, {
  localStorage: {
    getItem: (key: string) => kept.get(key) ?? null,
    setItem: (key: string, value: string) => void kept.set(key, value),
  },
});
if (!('navigator' in globalThis)) Object.assign(globalThis, { navigator: {} });
