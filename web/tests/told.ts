import { expect } from '@playwright/test';

import { newId, type Draft, type Entry } from '../src/shared/entries';
import type { BatchView, DayView } from '../src/api/types';
import type { Program } from './serve';

/** What a story says to the program behind the page's back: another device of the same household. */

export async function ask<T>(program: Program, path: string): Promise<T> {
  return (await (await fetch(`${program.address}/api/v1${path}`)).json()) as T;
}

export async function tell<T>(program: Program, path: string, body: unknown): Promise<T> {
  const headers = { 'content-type': 'application/json' };
  const response = await fetch(`${program.address}/api/v1${path}`, {
    method: 'POST',
    headers,
    body: JSON.stringify(body),
  });
  return (await response.json()) as T;
}

/** Each must be stored. */
export async function said(program: Program, drafts: Draft[]): Promise<void> {
  const { now_utc } = (await ask<DayView>(program, '/day')).household;
  const common = { v: 1, happened: now_utc, who: '', live: true } as const;
  const entries: Entry[] = drafts.map(({ kind, what }) => ({ ...common, id: newId(), kind, what }));
  const answers = await tell<{ stored: boolean }[]>(program, '/entries', entries);
  expect(
    answers.every((one) => one.stored),
    JSON.stringify(answers),
  ).toBe(true);
}

/** Brings a lot in by one line, and gives its id. */
export async function broughtIn(program: Program, line: string): Promise<string> {
  interface Read {
    crop: string;
    mass_kg: number;
    condition: string;
    place: string;
    form: string;
  }
  const { mass_kg, ...read } = await tell<Read>(program, '/read-line', { line });
  const { crop, condition, place, form } = read;
  const parcel = newId();
  const what = {
    crop,
    condition,
    place,
    form,
    mass_g: Math.round(mass_kg * 1000),
    note: '',
    as_said: line,
    facts: [],
  };
  await said(program, [{ kind: 'brought_in', what: { ...what, parcel } }]);
  return parcel;
}

/**
 * Starts a batch of a route from `kg` of a lot (0: all of it), and sees it through to `until`: every step before it is
 * done.
 */
export async function startedBatch(
  program: Program,
  { route, lot, kg = 0, until }: { route: string; lot: string; kg?: number; until: string },
): Promise<string> {
  const asked = { route, lots: [lot], kg };
  const { entry, message } = await tell<{ entry?: Record<string, unknown>; message?: string }>(
    program,
    '/batches/draft',
    asked,
  );
  expect(entry, message).toBeDefined();
  const batch = String(entry?.['batch']);
  await said(program, [{ kind: 'batch_started', what: entry ?? {} }]);
  const { steps } = await ask<BatchView>(program, `/batches/${batch}`);
  const at = steps.findIndex((step) => step.stage === until);
  expect(at, `${route} has no step ${until}`).toBeGreaterThanOrEqual(0);
  await said(program, steps.slice(0, at).flatMap(doneStep(batch)));
  return batch;
}

const doneStep =
  (batch: string) =>
  ({ stage }: { stage: string }): Draft[] => [
    { kind: 'stage_started', what: { batch, stage, who: '' } },
    { kind: 'stage_finished', what: { batch, stage } },
  ];

/** Every step that is still to come is done too: the batch waits to be packed. */
export async function seenThrough(program: Program, batch: string): Promise<void> {
  const { steps } = await ask<BatchView>(program, `/batches/${batch}`);
  const left = steps.filter((step) => step.state === 'next' || step.state === 'later');
  const running = steps.filter((step) => step.state === 'underway').map(({ stage }) => stage);
  await said(program, [
    ...running.map((stage): Draft => ({ kind: 'stage_finished', what: { batch, stage } })),
    ...left.flatMap(doneStep(batch)),
  ]);
}
