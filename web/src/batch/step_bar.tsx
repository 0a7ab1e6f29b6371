import { useState } from 'preact/hooks';

import type { BatchView, StepView } from '../api/types';
import { act } from '../shared/act';
import type { Draft } from '../shared/entries';
import { t } from '../shared/texts';
import { outbox } from '../shared/views';

/** Entries that a step's main button makes, and the button's words. Exported for its test. */
export function mainMove(batch: BatchView, at: number): { words: string; said: string; drafts: Draft[] } {
  const step = batch.steps[at];
  if (!step) return { words: '', said: '', drafts: [] };
  const start = (one: StepView): Draft => ({
    kind: 'stage_started',
    what: { batch: batch.id, stage: one.stage, who: outbox.who },
  });
  if (step.state === 'put_down')
    return { words: t.batch.pickUp, said: t.batch.pickedUp(step.title), drafts: [start(step)] };
  if (step.state !== 'underway')
    return { words: t.batch.begin, said: t.batch.begunStep(step.title), drafts: [start(step)] };
  const drafts: Draft[] = [{ kind: 'stage_finished', what: { batch: batch.id, stage: step.stage } }];
  const next = batch.steps[at + 1];
  if (next && (next.state === 'later' || next.state === 'next')) drafts.push(start(next));
  return { words: next ? t.batch.doneNext : t.batch.doneLast, said: t.batch.doneStep(step.title), drafts };
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
    await act(drafts, said);
    setBusy(false);
  };
  const elsewhere = at !== batch.current;
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
              : void doIt(move.drafts.slice(0, 1), move.said)
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
