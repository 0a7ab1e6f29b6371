import { describe, expect, it } from 'vitest';

import { batch, larder } from '../../tests/fixtures';
import { makeEntry, type Draft, type Entry } from './entries';
import { batchWithPending, larderWithPending, runningTimers } from './pending';

const kNow = Date.parse('2026-09-16T12:40:00Z');
const entry = (draft: Draft): Entry => makeEntry(draft, '', kNow);

describe('while changes wait to be sent', () => {
  it('a finished step is drawn as done and the next one becomes current', () => {
    const seen = batchWithPending(batch, [
      entry({ kind: 'stage_finished', what: { batch: 'b1', stage: 'process' } }),
      entry({ kind: 'stage_started', what: { batch: 'b1', stage: 'cool', who: '' } }),
    ]);
    expect(seen.steps.map((step) => step.state)).toEqual(['done', 'done', 'underway']);
    expect(seen.current).toBe(2);
  });

  it('another batch is left alone', () => {
    const other = entry({ kind: 'stage_finished', what: { batch: 'b2', stage: 'process' } });
    expect(batchWithPending(batch, [other])).toEqual(batch);
  });

  it('the last finished step leads to packing', () => {
    const done = batch.steps.map((step) =>
      entry({ kind: 'stage_finished', what: { batch: 'b1', stage: step.stage } }),
    );
    expect(batchWithPending(batch, done).current).toBe(batch.steps.length);
  });

  it('a taken jar is gone from the shelf and from what to eat first', () => {
    const taken = [1, 2].map(() => entry({ kind: 'taken', what: { parcel: '7k3', packs: 1, why: '' } }));
    const seen = larderWithPending(larder, taken);
    expect(seen.shelves[0]?.packs[0]?.packs).toBe(7);
    expect(seen.eat_first[0]?.packs).toBe(7);
  });

  it('a shelf counted empty shows nothing', () => {
    const counted = entry({ kind: 'counted', what: { parcel: '9p2', packs: 0 } });
    expect(larderWithPending(larder, [counted]).shelves[1]?.packs).toEqual([]);
  });

  it('timers keep their deadline, however late they are looked at', () => {
    const shown = { id: 't1', name: 'Process', batch: 'b1', batch_name: 'Pears', due: '', seconds_left: 90 };
    const set = entry({
      kind: 'timer_set',
      what: { timer: 't2', batch: 'b1', name: 'Cool', due: '2026-09-16T12:41:00Z' },
    });
    const running = runningTimers([shown], kNow, [set]);
    expect(running.map((timer) => [timer.id, timer.deadline - kNow])).toEqual([
      ['t2', 60_000],
      ['t1', 90_000],
    ]);
    const stopped = entry({ kind: 'timer_stopped', what: { timer: 't1' } });
    expect(runningTimers([shown], kNow, [set, stopped]).map((timer) => timer.id)).toEqual(['t2']);
  });
});
