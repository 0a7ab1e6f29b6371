import type { BatchView, LarderView, PackView, StepView, TimerView } from '../api/types';
import { onThisDevice } from './clock';
import type { Entry, Kinds } from './entries';

/**
 * What a page shows while changes made on this phone still wait to be sent: the last look, with those changes drawn
 * in. Only what is certain is drawn in (a step ticked off, a jar taken, a timer set); amounts and plans wait for
 * the household's own answer.
 */

function whatOf<K extends Entry['kind']>(entry: Entry, kind: K): Kinds[K] | null {
  return entry.kind === kind ? (entry.what as Kinds[K]) : null;
}

/** One running timer with its deadline on this device's clock. */
export interface Running {
  id: string;
  name: string;
  batch: string;
  batchName: string;
  /** Whose time it is, where it is the person's own. */
  note: string;
  /** Milliseconds, this device's clock. */
  deadline: number;
}

/** Timers of a view seen at `at`, with those set or stopped since. */
export function runningTimers(timers: TimerView[], at: number, waiting: Entry[]): Running[] {
  const running = new Map<string, Running>();
  for (const timer of timers) {
    if (timer.id === '') continue;
    const deadline = at + timer.seconds_left * 1000;
    running.set(timer.id, {
      id: timer.id,
      name: timer.name,
      batch: timer.batch,
      batchName: timer.batch_name,
      note: timer.note ?? '',
      deadline,
    });
  }
  for (const entry of waiting) {
    const set = whatOf(entry, 'timer_set');
    if (set) {
      const { timer: id, name, batch = '', due, note = '' } = set;
      running.set(id, { id, name, batch, batchName: '', note, deadline: onThisDevice(Date.parse(due)) });
    }
    const stopped = whatOf(entry, 'timer_stopped');
    if (stopped) running.delete(stopped.timer);
  }
  return [...running.values()].sort((a, b) => a.deadline - b.deadline);
}

export function batchWithPending(view: BatchView, waiting: Entry[]): BatchView {
  let steps = view.steps;
  const change = (stage: string, state: StepView['state']): void => {
    steps = steps.map((step) => (step.stage === stage ? { ...step, state } : step));
  };
  let packed = view.packed_parcel;
  let touched = '';
  for (const entry of waiting) {
    const started = whatOf(entry, 'stage_started');
    if (started?.batch === view.id) {
      change(started.stage, 'underway');
      touched = started.stage;
    }
    const finished = whatOf(entry, 'stage_finished');
    if (finished?.batch === view.id) change(finished.stage, 'done');
    const down = whatOf(entry, 'stage_put_down');
    if (down?.batch === view.id) change(down.stage, 'put_down');
    const packing = whatOf(entry, 'packed');
    if (packing?.batch === view.id) packed = packing.parcel;
  }
  if (steps === view.steps) return { ...view, packed_parcel: packed };
  // Several loads can be underway: the one last begun is the one at hand.
  const begun = steps.findIndex((step) => step.stage === touched && step.state === 'underway');
  const any = steps.findIndex((step) => step.state === 'underway' || step.state === 'put_down');
  const open = begun >= 0 ? begun : any;
  const next = steps.findIndex((step) => step.state !== 'done');
  const current = open >= 0 ? open : next >= 0 ? next : steps.length;
  return { ...view, steps, current, packed_parcel: packed };
}

export function larderWithPending(view: LarderView, waiting: Entry[]): LarderView {
  const left = (pack: PackView): PackView => {
    let packs = pack.packs;
    let unchecked = pack.seals_unchecked;
    for (const entry of waiting) {
      const taken = whatOf(entry, 'taken');
      if (taken?.parcel === pack.parcel) packs -= taken.packs;
      const counted = whatOf(entry, 'counted');
      if (counted?.parcel === pack.parcel) packs = counted.packs;
      const checked = whatOf(entry, 'seal_checked');
      if (checked?.parcel === pack.parcel) unchecked = false;
    }
    return { ...pack, packs: Math.max(0, packs), seals_unchecked: unchecked };
  };
  const there = (packs: PackView[]): PackView[] => packs.map(left).filter((pack) => pack.packs > 0);
  return {
    ...view,
    shelves: view.shelves.map((shelf) => ({ ...shelf, packs: there(shelf.packs) })),
    eat_first: there(view.eat_first),
  };
}
