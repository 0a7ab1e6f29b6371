import { describe, expect, it } from 'vitest';

import { batch } from '../../tests/fixtures';
import { mainMove } from './step_bar';

describe('the main button of a step', () => {
  it('finishes the step at hand and begins the next', () => {
    expect(mainMove(batch, 1).drafts.map((draft) => draft.kind)).toEqual(['stage_finished', 'stage_started']);
  });
  it('starts the clock and its timer with one tap', () => {
    const steps = batch.steps.map((step, i) => ({
      ...step,
      state: i === 0 ? ('underway' as const) : ('later' as const),
    }));
    const drafts = mainMove({ ...batch, steps }, 0).drafts;
    expect(drafts.map((draft) => draft.kind)).toEqual(['stage_finished', 'stage_started', 'timer_set']);
  });
  it('does not begin another load of itself', () => {
    const steps = batch.steps.map((step, i) => ({
      ...step,
      load: i,
      state: i === 1 ? step.state : ('later' as const),
    }));
    expect(mainMove({ ...batch, steps }, 1).drafts.map((draft) => draft.kind)).toEqual(['stage_finished']);
  });
  it('only finishes the last step', () => {
    const steps = batch.steps.map((step, i) => ({
      ...step,
      state: i === 2 ? ('underway' as const) : ('done' as const),
    }));
    expect(mainMove({ ...batch, steps }, 2).drafts.map((draft) => draft.kind)).toEqual(['stage_finished']);
  });
  it('stops a timer of its own that has rung, and none that still runs', () => {
    const own = { id: 'a', name: 'Vent', batch: batch.id, batch_name: '', seconds_left: 0 };
    const timers = [
      { ...own, due: '2000-01-01T00:00:00Z' },
      { ...own, id: 'b', due: '2999-01-01T00:00:00Z' },
      { ...own, id: 'c', name: 'Other', due: '2000-01-01T00:00:00Z' },
    ];
    const steps = batch.steps.map((step, i) =>
      i === 2 ? { ...step, state: 'underway' as const, timers: [own] } : step,
    );
    const { drafts } = mainMove(
      { ...batch, steps: steps as typeof batch.steps, timers: timers as typeof batch.timers },
      2,
    );
    expect(drafts.slice(1)).toEqual([{ kind: 'timer_stopped', what: { timer: 'a' } }]);
  });
  it('begins a step that has not begun, and picks up one that was put down', () => {
    const at = (state: 'next' | 'put_down') => ({ ...batch, steps: batch.steps.map((step) => ({ ...step, state })) });
    expect(mainMove(at('next'), 0).drafts.map((draft) => draft.kind)).toEqual(['stage_started']);
    expect(mainMove(at('put_down'), 0).drafts.map((draft) => draft.kind)).toEqual(['stage_started']);
  });
});
