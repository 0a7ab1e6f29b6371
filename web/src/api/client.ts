import type { Entry } from '../shared/entries';
import { NotNow, Rejected } from '../shared/outbox';
import type { BatchView, BringInDraft, Received, Refusal } from './types';

export const kBase = '/api/v1';
const kNotPaired = 'not_paired';
const kPairPage = '/pair';

function isRefusal(body: unknown): body is Refusal {
  return typeof body === 'object' && body !== null && 'code' in body && 'message' in body;
}

/**
 * Only the household's word on what was asked is final. Not let in (401, 403), too slow (408), too often (429), or
 * trouble of its own (5xx) says nothing about it.
 */
const isFinal = (status: number): boolean => ![401, 403, 408, 429].includes(status) && status < 500;

/** Milliseconds after which a change counts as not sent: a signal this weak is none. */
const kSendMs = 8_000;
/** A plan in the making holds a look up; nobody waits for it in front of an empty page. */
const kLookMs = 30_000;

/** A signal of its own for each request, cut off by time or with `other`. Not AbortSignal.any: too new for old phones. */
async function within<T>(
  ms: number,
  other: AbortSignal | undefined,
  work: (signal: AbortSignal) => Promise<T>,
): Promise<T> {
  const cut = new AbortController();
  const stop = (): void => cut.abort();
  const timer = setTimeout(stop, ms);
  other?.addEventListener('abort', stop);
  try {
    if (other?.aborted) stop();
    return await work(cut.signal);
  } finally {
    clearTimeout(timer);
    other?.removeEventListener('abort', stop);
  }
}

async function answerOf(response: Response): Promise<unknown> {
  // An answer cut off half way is no answer: it must not be kept as an empty one.
  if (response.ok) return response.json();
  const body: unknown = await response.json().catch(() => null);
  if (isRefusal(body)) {
    // This device may not come in (any more): what was said waits here until it is paired again.
    if (body.code === kNotPaired && location.pathname !== kPairPage) location.assign(kPairPage);
    const refusal = { code: body.code, message: body.message, instead: body.instead ?? [] };
    throw isFinal(response.status) ? new Rejected(refusal) : new NotNow(refusal);
  }
  // A broken door in between is no answer from the household: what was said must wait, not be dropped.
  throw new TypeError(`status ${response.status}`);
}

/**
 * Reads a page's view. Throws Rejected with the household's words, NotNow when it did not get to it, or another error
 * when there is no connection.
 */
export function get<T>(path: string, signal?: AbortSignal): Promise<T> {
  return within(kLookMs, signal, async (cut) => {
    const init: RequestInit = { headers: { accept: 'application/json' }, signal: cut };
    return (await answerOf(await fetch(kBase + path, init))) as T;
  });
}

export function post<T>(path: string, body: unknown, signal?: AbortSignal, ms = kLookMs): Promise<T> {
  return within(ms, signal, async (cut) => {
    const init: RequestInit = {
      method: 'POST',
      headers: { 'content-type': 'application/json', accept: 'application/json' },
      body: JSON.stringify(body),
      signal: cut,
    };
    return (await answerOf(await fetch(kBase + path, init))) as T;
  });
}

export const sendEntries = (entries: Entry[]): Promise<Received[]> =>
  post<Received[]>('/entries', entries, undefined, kSendMs);
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
