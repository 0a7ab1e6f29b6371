import { outbox } from './views';

const kWho = 'stillroom.who';

/** Person key of whoever uses this device; put on every entry made here. Empty: nobody in particular. */
export const speaker = (): string => localStorage.getItem(kWho) ?? '';

export function speakAs(key: string): void {
  localStorage.setItem(kWho, key);
  outbox.who = key;
}

/** Somebody else has this device in hand: what is said is theirs until `rememberSpeaker`, or until the page is gone. */
export function lendTo(key: string): void {
  outbox.who = key;
}

export function rememberSpeaker(): void {
  outbox.who = speaker();
}
