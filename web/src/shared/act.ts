import type { Draft } from './entries';
import type { Outcome } from './outbox';
import { t } from './texts';
import { say, sayNo } from './toast';
import { outbox, refresh } from './views';

/** After so long without an answer a person is told that it is kept here. */
const kPatienceMs = 400;

/**
 * Records what a person did and says so, with Undo. `words` is what was done, in the past: "Moved to the fridge".
 * True when it was kept, here or in the household file.
 */
export async function act(drafts: Draft[], words: string): Promise<boolean> {
  return (await actFor(drafts, words)) !== null;
}

/** The same, and what became of it, for who offers to take it back later than the toast does; null when not kept. */
export async function actFor(drafts: Draft[], words: string): Promise<Outcome | null> {
  const outcome = await keep(drafts, words);
  if (!outcome) return null;
  const undo = (): void => void undoAll(outcome, words);
  say(outcome.how === 'waiting' ? t.outbox.kept(words) : words, undo);
  return outcome;
}

/** Records, and says what cannot be; nothing when it was not kept. */
async function keep(drafts: Draft[], words: string): Promise<Outcome | null> {
  const slow = setTimeout(() => say(t.outbox.sending(words)), kPatienceMs);
  try {
    const outcome = await outbox.record(drafts, words);
    clearTimeout(slow);
    refresh();
    if (outcome.how !== 'refused') return outcome;
    sayNo(outcome.refusal.message, outcome.refusal.instead);
    return null;
  } catch {
    // This device's own store would not take it: the one case in which nothing was kept.
    clearTimeout(slow);
    sayNo(t.outbox.notKept(words), [t.outbox.notKeptInstead]);
    return null;
  }
}

/** For a button that is held while a change is on its way: not longer than a person has patience. */
export const soon = (acting: Promise<boolean>): Promise<unknown> =>
  Promise.race([acting, new Promise((resolve) => setTimeout(resolve, kPatienceMs))]);

/** Takes back the newest entry of one action; what depends on it goes with it. */
export async function undoAll(outcome: Outcome, words: string): Promise<void> {
  if (await outbox.takeBack(outcome.entries)) {
    say(t.undo.done(words));
    refresh();
    return;
  }
  const drafts: Draft[] = [...outcome.entries].reverse().map((entry) => ({ kind: 'undone', what: { entry } }));
  const undone = await outbox.record(drafts, t.undo.done(words));
  refresh();
  // The first one taken back may have taken the others with it.
  if (undone.how === 'refused' && undone.refusal.code !== 'already_undone')
    sayNo(undone.refusal.message, undone.refusal.instead);
  else say(t.undo.done(words));
}

/** Takes back one entry of the history. */
export async function undoEntry(entry: string, words: string): Promise<void> {
  const done = t.undo.done(words);
  if (await keep([{ kind: 'undone', what: { entry } }], done)) say(done);
}
