import type { Running } from './pending';
import { t } from './texts';

/** The system's own notices, for a page that nobody is looking at. Only where the person has said so, on a button. */

const able = (): boolean => 'Notification' in globalThis && 'serviceWorker' in navigator;

/** Whether the person has not been asked yet. */
export const mayAsk = (): boolean => able() && Notification.permission === 'default';

export async function askToNotify(): Promise<void> {
  if (mayAsk()) await Notification.requestPermission();
}

/** One of our own notices, by the timer it is about: two open pages show it once. */
const tagOf = (timer: Running): string => `stillroom-timer-${timer.id}`;

async function worker(): Promise<ServiceWorkerRegistration | undefined> {
  if (!able() || Notification.permission !== 'granted') return undefined;
  return navigator.serviceWorker.getRegistration();
}

/** Says that a timer is up. Nothing where it is not allowed, or where no worker is registered to show it. */
export function notifyOf(timer: Running): void {
  const page = timer.batch === '' ? '/' : `/batches/${timer.batch}`;
  const options: NotificationOptions = {
    body: timer.batchName === '' ? timer.note : timer.batchName,
    tag: tagOf(timer),
    icon: '/icon.svg',
    requireInteraction: true,
    data: page,
  };
  void worker().then((one) => one?.showNotification(t.timers.done(timer.name), options));
}

/** Takes the notice away again: the timer was stopped. */
export function withdraw(timer: Running): void {
  void worker()
    .then((one) => one?.getNotifications({ tag: tagOf(timer) }))
    .then((all) => all?.forEach((notice) => notice.close()));
}
