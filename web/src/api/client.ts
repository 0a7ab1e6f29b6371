import type { Entry } from '../shared/entries';
import { Rejected } from '../shared/outbox';
import type { BatchView, BringInDraft, Received, Refusal } from './types';

export const kBase = '/api/v1';
const kNotPaired = 401;
const kPairPage = '/pair';

function isRefusal(body: unknown): body is Refusal {
  return typeof body === 'object' && body !== null && 'code' in body && 'message' in body;
}

async function answerOf(response: Response): Promise<unknown> {
  // An answer cut off half way is no answer: it must not be kept as an empty one.
  if (response.ok) return response.json();
  const body: unknown = await response.json().catch(() => null);
  // This device may not come in (any more): what was said waits here until it is paired again.
  if (response.status === kNotPaired) {
    if (location.pathname !== kPairPage) location.assign(kPairPage);
    throw new TypeError('not paired');
  }
  if (isRefusal(body)) {
    throw new Rejected({ code: body.code, message: body.message, instead: body.instead ?? [] });
  }
  // A broken door in between is no answer from the household: what was said must wait, not be dropped.
  throw new TypeError(`status ${response.status}`);
}

/** Reads a page's view. Throws Rejected with the household's words, or TypeError when there is no connection. */
export async function get<T>(path: string, signal?: AbortSignal): Promise<T> {
  const init: RequestInit = { headers: { accept: 'application/json' } };
  if (signal) init.signal = signal;
  return (await answerOf(await fetch(kBase + path, init))) as T;
}

export async function post<T>(path: string, body: unknown, signal?: AbortSignal): Promise<T> {
  const init: RequestInit = {
    method: 'POST',
    headers: { 'content-type': 'application/json', accept: 'application/json' },
    body: JSON.stringify(body),
  };
  if (signal) init.signal = signal;
  return (await answerOf(await fetch(kBase + path, init))) as T;
}

export const sendEntries = (entries: Entry[]): Promise<Received[]> => post<Received[]>('/entries', entries);
export const readLine = (line: string, signal?: AbortSignal): Promise<BringInDraft> =>
  post<BringInDraft>('/read-line', { line }, signal);
export const answerStart = (key: string, answer: string): Promise<unknown> => post('/start', { key, answer });

export interface BatchDraft {
  /** The batch as its page will show it. */
  card: BatchView;
  /** The `batch_started` fields, steps and heat process frozen in. */
  entry: Record<string, unknown>;
}
export const draftBatch = (route: string, lots: string[], kg: number, signal?: AbortSignal): Promise<BatchDraft> =>
  post<BatchDraft>('/batches/draft', { route, lots, kg }, signal);
