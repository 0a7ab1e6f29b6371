/** Entries as docs/ledger.md writes them: one thing that happened, made here and kept for good. */

export interface FreeTime {
  weekday: number;
  /** Only on this day instead of weekly. */
  date?: string;
  from_min: number;
  to_min: number;
}
export interface Person {
  key: string;
  name: string;
  age_years: number;
  skills: string[];
  free: FreeTime[];
  usable_min_per_h: number;
  most_min_per_day: number;
  needs_minding: boolean;
}
export interface Place {
  key: string;
  name: string;
  kind: string;
  temp_c: number;
  humidity_pct: number;
  capacity: number;
}

/** The kinds these pages make, each with its fields. */
export interface Kinds {
  settings_changed: { values: Record<string, string> };
  person_set: { person: Person };
  person_removed: { key: string };
  place_set: { place: Place };
  equipment_set: { key: string; count: number };
  stock_set: { item: string; amount: number };
  brought_in: {
    parcel: string;
    crop: string;
    mass_g: number;
    condition: string;
    place: string;
    form: string;
    note: string;
    as_said: string;
    facts: string[];
  };
  standing_picked: {
    key: string;
    parcel: string;
    mass_g: number;
    condition: string;
    place: string;
    more_to_come: boolean;
  };
  sorted: {
    parcel: string;
    parts: { parcel: string; mass_g: number; condition: string; place: string }[];
    discarded_g: number;
  };
  moved: { parcel: string; place: string };
  observed: { parcel: string; condition: string; facts: string[] };
  weighed: { parcel: string; mass_g: number };
  eaten_fresh: { parcel: string; mass_g: number };
  given_away: { parcel: string; mass_g?: number; packs?: number; to: string };
  thrown_away: { parcel: string; mass_g?: number; packs?: number; why: string };
  fed_to_stock: { parcel: string; mass_g: number };
  batch_started: Record<string, unknown>;
  stage_started: { batch: string; stage: string; who: string };
  stage_put_down: { batch: string; stage: string };
  stage_finished: { batch: string; stage: string };
  clock_corrected: { batch: string; stage: string; began: string };
  trouble_met: {
    fault: string;
    outcome: string;
    batch?: string;
    stage?: string;
    place?: string;
    parcels: string[];
    /** With one parcel: so many of its packs. */
    packs?: number;
    elapsed_min?: number;
  };
  batch_abandoned: { batch: string; why: string; give_back: boolean };
  timer_set: { timer: string; batch?: string; name: string; due: string; note?: string };
  timer_stopped: { timer: string };
  packed: {
    batch: string;
    parcel: string;
    food: string;
    form: string;
    pack: string;
    packs: number;
    mass_g?: number;
    place: string;
    code: string;
    eat_by?: string;
    keeps_months?: number;
  };
  put_by_before: {
    parcel: string;
    food: string;
    form: string;
    pack: string;
    packs: number;
    mass_g: number;
    place: string;
    note: string;
  };
  seal_checked: { parcel: string; sealed: number; failed: number };
  taken: { parcel: string; packs: number; why: string };
  counted: { parcel: string; packs: number };
  other_work_done: { key: string };
  undone: { entry: string };
  discrepancy_settled: { about: string; how: string };
}

export type Kind = keyof Kinds;
/** Something to record; id and time are given when it is recorded. */
/**
 * `happened` where it was at another moment than this one, such as a killing in the morning; `id` where whoever
 * records it may have to record the same thing again: one id is stored once.
 */
export type Draft = { [K in Kind]: { kind: K; what: Kinds[K]; happened?: string; id?: string } }[Kind];

export interface Entry {
  /** Version of the entry's form. */
  v: 1;
  id: string;
  happened: string;
  who: string;
  live: boolean;
  kind: Kind;
  what: Kinds[Kind];
}

/** 128 random bits as 32 hex digits. Not randomUUID: that is missing where a page comes over plain HTTP. */
export function newId(): string {
  const bytes = crypto.getRandomValues(new Uint8Array(16));
  return Array.from(bytes, (byte) => byte.toString(16).padStart(2, '0')).join('');
}

/** Moment as entries write it: UTC, to the second. */
export function instant(milliseconds: number): string {
  return `${new Date(milliseconds).toISOString().slice(0, 19)}Z`;
}

/** A mass as entries write it: grams, to the milligram. */
export const grams = (kilograms: number): number => Math.round(kilograms * 1e6) / 1000;

export function makeEntry(draft: Draft, who: string, now: number): Entry {
  const happened = draft.happened ?? instant(now);
  return { v: 1, id: draft.id ?? newId(), happened, who, live: true, kind: draft.kind, what: draft.what };
}
