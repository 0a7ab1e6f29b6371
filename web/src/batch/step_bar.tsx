import { useState } from 'preact/hooks';

import type { BatchView, StepView } from '../api/types';
import { act, soon } from '../shared/act';
import { householdNow } from '../shared/clock';
import { instant, newId, type Draft } from '../shared/entries';
import { t } from '../shared/texts';
import { outbox } from '../shared/views';

interface Move {
  words: string;
  said: string;
  drafts: Draft[];
  /** Those of `drafts` that end this step, without beginning the next. */
  ending: Draft[];
}

/** Entries that a step's main button makes, and the button's words. Exported for its test. */
export function mainMove(batch: BatchView, at: number): Move {
  const step = batch.steps[at];
  if (!step) return { words: '', said: '', drafts: [], ending: [] };
  const start = (one: StepView): Draft[] => {
    const begin: Draft = { kind: 'stage_started', what: { batch: batch.id, stage: one.stage, who: outbox.who } };
    const timer = one.shows_process ? one.timers[0] : undefined;
    if (!timer) return [begin];
    // The clock of the process and its timer begin with the same tap.
    const due = instant(householdNow() + timer.seconds_left * 1000);
    return [begin, { kind: 'timer_set', what: { timer: newId(), batch: batch.id, name: timer.name, due } }];
  };
  if (step.state === 'put_down')
    return { words: t.batch.pickUp, said: t.batch.pickedUp(step.title), drafts: start(step), ending: [] };
  if (step.state !== 'underway') {
    const words = step.shows_process ? t.batch.clockStarts : t.batch.begin;
    return { words, said: t.batch.begunStep(step.title), drafts: start(step), ending: [] };
  }
  const ending: Draft[] = [
    { kind: 'stage_finished', what: { batch: batch.id, stage: step.stage } },
    ...rungOut(batch, step),
  ];
  const next = nextOf(batch.steps, at);
  const drafts = next ? [...ending, ...start(next)] : ending;
  const words = !next ? t.batch.doneLast : next.shows_process ? t.batch.clockStarts : t.batch.doneNext;
  return { words, said: t.batch.doneStep(step.title), drafts, ending };
}

/**
 * The step's own timers that have rung are stopped with it. One that still runs is not: the household may refuse to
 * end a process too early, and its timer must then still ring.
 */
function rungOut(batch: BatchView, step: StepView): Draft[] {
  const now = householdNow();
  const names = new Set(step.timers.map((timer) => timer.name));
  return batch.timers
    .filter(({ id, name, due }) => id !== '' && names.has(name) && Date.parse(due) <= now)
    .map(({ id }) => ({ kind: 'timer_stopped', what: { timer: id } }));
}

/** The step that follows on its own way: a load goes on with itself, the whole batch with the next of the whole. */
function nextOf(steps: StepView[], at: number): StepView | undefined {
  const next = steps[at + 1];
  const goesOn = next && (next.load === steps[at]?.load || next.load === 0);
  return goesOn && (next.state === 'later' || next.state === 'next') ? next : undefined;
}

/** The one move that goes on, by itself: where several batches stand beside each other. */
export function StepMove({ batch, at }: { batch: BatchView; at: number }) {
  const [busy, setBusy] = useState(false);
  const move = mainMove(batch, at);
  const doIt = async (): Promise<void> => {
    setBusy(true);
    await soon(act(move.drafts, move.said));
    setBusy(false);
  };
  return (
    <button
      type="button"
      class="main"
      disabled={busy}
      aria-label={t.batches.moveOf(move.words, batch.name)}
      onClick={() => void doIt()}
    >
      {move.words}
    </button>
  );
}

/** Thumb-sized: back, put down, and the one that goes on. */
export function StepBar(props: { batch: BatchView; at: number; onLook: (at: number | null) => void }) {
  const { batch, at, onLook } = props;
  const [busy, setBusy] = useState(false);
  const step = batch.steps[at];
  if (!step) return null;
  const move = mainMove(batch, at);
  const doIt = async (drafts: Draft[], said: string): Promise<void> => {
    setBusy(true);
    await soon(act(drafts, said));
    setBusy(false);
  };
  // Other loads have steps of their own that can be worked on; only what is over or not yet due is just looked at.
  const elsewhere = at !== batch.current && (step.state === 'done' || step.state === 'later');
  return (
    <div class="step-bar">
      <button type="button" disabled={at === 0} onClick={() => onLook(at - 1)}>
        {t.batch.back}
      </button>
      {!elsewhere && step.state === 'underway' && (
        <button
          type="button"
          disabled={busy}
          onClick={() =>
            step.can_pause
              ? void doIt(
                  [{ kind: 'stage_put_down', what: { batch: batch.id, stage: step.stage } }],
                  t.batch.putDownSaid(step.title),
                )
              : void doIt(move.ending, move.said)
          }
        >
          {step.can_pause ? t.batch.putDown : t.batch.stopHere}
        </button>
      )}
      {elsewhere ? (
        <button type="button" class="main" onClick={() => onLook(null)}>
          {t.batch.toCurrent}
        </button>
      ) : (
        <button type="button" class="main" disabled={busy} onClick={() => void doIt(move.drafts, move.said)}>
          {move.words}
        </button>
      )}
    </div>
  );
}
