import type { BatchView, DayView, LarderView, LotView, PackView, StepView, StripView, TimerView } from '../api/types';
import { onThisDevice } from './clock';
import type { Entry, Kinds } from './entries';
import { massWords, type Units } from './format';

/**
 * What a page shows while changes made on this phone still wait to be sent: the last look, with those changes drawn
 * in and marked. Only what is certain is drawn in (a step ticked off, a jar taken, a lot moved, a timer set); plans and
 * what is left of a lot's days wait for the household's own answer.
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

/** Names of places by their keys, for what is moved to one that the page does not show. */
export type PlaceNames = Record<string, string>;

/** Where a change says a place that is known here by its key only. */
const placeName = (key: string, names: PlaceNames): string => names[key] ?? key.replaceAll('_', ' ');

export function larderWithPending(view: LarderView, waiting: Entry[], names: PlaceNames = {}): LarderView {
  const shelves = view.shelves.map((shelf) => ({ ...shelf }));
  const packs = new Map<string, PackView>();
  for (const pack of [...view.eat_first, ...shelves.flatMap((shelf) => shelf.packs)]) packs.set(pack.parcel, pack);
  const change = (parcel: string, by: (pack: PackView) => Partial<PackView>): void => {
    const pack = packs.get(parcel);
    if (pack) packs.set(parcel, { ...pack, ...by(pack), waiting: true });
  };
  const less = (parcel: string, count: number): void =>
    change(parcel, (pack) => ({ packs: Math.max(0, pack.packs - count) }));
  for (const entry of waiting) {
    const taken = whatOf(entry, 'taken');
    if (taken) less(taken.parcel, taken.packs);
    const gone = whatOf(entry, 'given_away') ?? whatOf(entry, 'thrown_away');
    if (gone) less(gone.parcel, gone.packs ?? 0);
    const counted = whatOf(entry, 'counted');
    if (counted) change(counted.parcel, () => ({ packs: counted.packs }));
    const checked = whatOf(entry, 'seal_checked');
    if (checked) {
      // The failed ones go to a place of their own when the household hears of them.
      change(checked.parcel, (pack) => ({ seals_unchecked: false, packs: Math.max(0, pack.packs - checked.failed) }));
    }
    const moved = whatOf(entry, 'moved');
    if (moved) change(moved.parcel, () => ({ place_key: moved.place, place: placeName(moved.place, names) }));
    const packed = whatOf(entry, 'packed') ?? whatOf(entry, 'put_by_before');
    if (packed && packed.packs > 0 && !packs.has(packed.parcel)) packs.set(packed.parcel, madeHere(packed, names));
  }
  const there = [...packs.values()].filter((pack) => pack.packs > 0);
  for (const { place_key, place } of there) {
    if (shelves.every((shelf) => shelf.place_key !== place_key)) {
      shelves.push({ place, place_key, packs: [], troubles: [], holds: [] });
    }
  }
  // Each stays in its place in the list; what is new on a shelf comes last.
  return {
    ...view,
    shelves: shelves.map((shelf) => ({
      ...shelf,
      packs: there.filter((pack) => pack.place_key === shelf.place_key),
    })),
    eat_first: view.eat_first.flatMap((pack) => there.find((one) => one.parcel === pack.parcel) ?? []),
  };
}

/** Packs that only this device knows of yet. */
function madeHere(what: Kinds['packed'] | Kinds['put_by_before'], names: PlaceNames): PackView {
  return {
    parcel: what.parcel,
    code: 'code' in what ? what.code : '',
    name: `${what.food} ${what.form}`.replaceAll('_', ' ').trim(),
    food: what.food,
    form: what.form,
    pack: what.pack,
    place: placeName(what.place, names),
    place_key: what.place,
    put_by: '',
    eat_by: 'eat_by' in what ? (what.eat_by ?? '') : '',
    batch: 'batch' in what ? what.batch : '',
    lots: '',
    packs: what.packs,
    mass_kg: (what.mass_g ?? 0) / 1000,
    seals_unchecked: false,
    eat_first: false,
    note: 'note' in what ? what.note : '',
    process_line: '',
    do_not_eat: '',
    waiting: true,
  };
}

/** A lot with what was said of it since: where it lies, how it looks, what left it. */
function stripWithPending(strip: StripView, waiting: Entry[], units: Units, names: PlaceNames): StripView {
  let seen = strip;
  const weighs = (kg: number): void => {
    const mass_kg = Math.max(0, kg);
    seen = { ...seen, mass_kg, amount: massWords(mass_kg, units), waiting: true };
  };
  for (const entry of waiting) {
    if (!('parcel' in entry.what) || entry.what.parcel !== strip.lot) continue;
    const moved = whatOf(entry, 'moved');
    if (moved) seen = { ...seen, place_key: moved.place, place: placeName(moved.place, names), waiting: true };
    const observed = whatOf(entry, 'observed');
    if (observed) {
      const condition = observed.condition === '' ? seen.condition : observed.condition.replaceAll('_', ' ');
      seen = { ...seen, condition, waiting: true };
    }
    const weighed = whatOf(entry, 'weighed');
    if (weighed) weighs(weighed.mass_g / 1000);
    const left =
      whatOf(entry, 'eaten_fresh') ??
      whatOf(entry, 'given_away') ??
      whatOf(entry, 'thrown_away') ??
      whatOf(entry, 'fed_to_stock');
    if (left?.mass_g) weighs(seen.mass_kg - left.mass_g / 1000);
  }
  return seen;
}

export function lotWithPending(view: LotView, waiting: Entry[], units: Units, names: PlaceNames = {}): LotView {
  return { ...view, strip: stripWithPending(view.strip, waiting, units, names) };
}

/** A lot that only this device knows of yet: how long it has, the household says. */
function broughtHere(what: Kinds['brought_in'], units: Units, names: PlaceNames, crops: PlaceNames): StripView {
  return {
    lot: what.parcel,
    name: crops[what.crop] ?? what.crop.replaceAll('_', ' '),
    amount: massWords(what.mass_g / 1000, units),
    place: placeName(what.place, names),
    place_key: what.place,
    condition: what.condition.replaceAll('_', ' '),
    form: what.form,
    crop: what.crop,
    mass_kg: what.mass_g / 1000,
    standing: false,
    hazard_by: null,
    days_left: { low: 0, likely: 0, high: 0, words: '' },
    usable: [],
    usable_low: [],
    usable_high: [],
    step_days: 1,
    marks: [],
    loss_per_day: '',
    loss_kg_per_day: 0,
    cost_of_waiting: 0,
    cost_words: '',
    next_move: '',
    next_at: '',
    let_go_reason: '',
    caution: '',
    waiting: true,
  };
}

export function dayWithPending(
  view: DayView,
  waiting: Entry[],
  names: PlaceNames = {},
  crops: PlaceNames = {},
): DayView {
  const { units } = view.household;
  const known = new Set(view.strips.map((strip) => strip.lot));
  const brought = waiting
    .map((entry) => whatOf(entry, 'brought_in'))
    .filter((what) => what !== null && !known.has(what.parcel))
    .map((what) => broughtHere(what as Kinds['brought_in'], units, names, crops));
  const done = new Set(waiting.map((entry) => whatOf(entry, 'other_work_done')?.key ?? ''));
  const settled = new Set(
    waiting.map((entry) => whatOf(entry, 'discrepancy_settled')?.about ?? whatOf(entry, 'undone')?.entry ?? ''),
  );
  return {
    ...view,
    strips: [...brought, ...view.strips]
      .map((strip) => stripWithPending(strip, waiting, units, names))
      .filter((strip) => strip.mass_kg > 0 || !strip.waiting),
    today: view.today.filter((task) => task.other === '' || !done.has(task.other)),
    discrepancies: view.discrepancies.filter((one) => !settled.has(one.about)),
  };
}
