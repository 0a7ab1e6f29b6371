import type { Draft } from './entries';
import type { Outcome } from './outbox';
import { t } from './texts';
import { say, sayNo } from './toast';
import { outbox, refresh } from './views';

/**
 * Records what a person did and says so, with Undo. `words` is what was done, in the past: "Moved to the fridge".
 * True when it was kept, here or in the household file.
 */
export async function act(drafts: Draft[], words: string): Promise<boolean> {
  return (await actFor(drafts, words)).how !== 'refused';
}

/** The same, and what became of it: for who offers to take it back later than the toast does. */
export async function actFor(drafts: Draft[], words: string): Promise<Outcome> {
  const outcome = await outbox.record(drafts, words);
  refresh();
  if (outcome.how === 'refused') {
    sayNo(outcome.refusal.message, outcome.refusal.instead);
    return outcome;
  }
  const undo = (): void => void undoAll(outcome, words);
  say(outcome.how === 'waiting' ? t.outbox.kept(words) : words, undo);
  return outcome;
}

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
  const outcome = await outbox.record([{ kind: 'undone', what: { entry } }], t.undo.done(words));
  refresh();
  if (outcome.how === 'refused') sayNo(outcome.refusal.message, outcome.refusal.instead);
  else say(t.undo.done(words));
}
