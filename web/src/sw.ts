/// The service worker: keeps the pages themselves, so that they open in the cellar. Views and changes are kept by the
/// pages (shared/views.ts, shared/outbox.ts); the worker never touches them. Shows the notices of timers.

/** Files of this build and a name made from their contents; written in front of this file by the build. */
declare const kFiles: readonly string[];
declare const kVersion: string;

const sw = self as unknown as ServiceWorkerGlobalScope;
const kCache = `stillroom-${kVersion}`;
const kPage = '/';

sw.addEventListener('install', (event) => {
  event.waitUntil(
    caches
      .open(kCache)
      .then((cache) => cache.addAll(kFiles.map((file) => new Request(file, { cache: 'reload' }))))
      .then(() => sw.skipWaiting()),
  );
});

sw.addEventListener('activate', (event) => {
  event.waitUntil(
    caches
      .keys()
      .then((names) => Promise.all(names.filter((name) => name !== kCache).map((name) => caches.delete(name))))
      .then(() => sw.clients.claim()),
  );
});

sw.addEventListener('fetch', (event) => {
  const url = new URL(event.request.url);
  if (event.request.method !== 'GET' || url.origin !== location.origin || url.pathname.startsWith('/api/')) return;
  const wanted = event.request.mode === 'navigate' ? kPage : event.request;
  event.respondWith(caches.open(kCache).then(async (cache) => (await cache.match(wanted)) ?? fetch(event.request)));
});

/** A tap on a notice opens the page it is about: in one that is open already, where there is one. */
sw.addEventListener('notificationclick', (event) => {
  event.notification.close();
  const page = String(event.notification.data ?? '/');
  event.waitUntil(
    sw.clients.matchAll({ type: 'window' }).then(async ([open]) => {
      if (!open) return sw.clients.openWindow(page);
      await open.navigate(page);
      return open.focus();
    }),
  );
});
