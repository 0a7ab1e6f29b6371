import { useEffect, useState } from 'preact/hooks';

import { draftBatch, type BatchDraft } from '../api/client';
import type { Refusal } from '../api/types';
import { act } from '../shared/act';
import { Form, NumberField } from '../shared/form';
import { fromKilograms, massUnit, readNumber, toKilograms } from '../shared/format';
import { Rejected } from '../shared/outbox';
import { Heading } from '../shared/page';
import { become } from '../shared/router';
import { t } from '../shared/texts';
import { useDay } from '../shared/views';
import { BatchFacts } from './facts';
import { ProcessCard } from './process_card';
import './batch.css';

/** A batch before it is begun: what it takes, what it makes, what to gather, and the heat process or the refusal. */
export function StartBatchPage({ route, lots, kg }: { route: string; lots: string[]; kg: number }) {
  const units = useDay().data?.household.units ?? 'us';
  const [amount, setAmount] = useState('');
  const [draft, setDraft] = useState<BatchDraft | null>(null);
  const [no, setNo] = useState<Refusal | null>(null);
  const [busy, setBusy] = useState(false);
  const typed = readNumber(amount);
  const wanted = typed === null ? kg : toKilograms(typed, units);

  useEffect(() => {
    const flight = new AbortController();
    draftBatch(route, lots, wanted, flight.signal)
      .then((made) => {
        setDraft(made);
        setNo(null);
      })
      .catch((error: unknown) => {
        if (flight.signal.aborted) return;
        setDraft(null);
        setNo(
          error instanceof Rejected
            ? error.refusal
            : { code: 'offline', message: t.batch.needsHousehold, instead: [] },
        );
      });
    return () => flight.abort();
  }, [route, lots.join(','), wanted]);

  const start = async (): Promise<void> => {
    if (!draft) return;
    setBusy(true);
    const done = await act([{ kind: 'batch_started', what: draft.entry }], t.batch.begun(draft.card.name));
    setBusy(false);
    if (done) become(`/batches/${String(draft.entry['batch'])}`);
  };
  return (
    <div class="batch">
      <Heading title={draft?.card.name ?? t.batch.start} />
      {no && (
        <div class="no" role="alert">
          <p>{no.message}</p>
          {no.instead.length > 0 && <p>{t.batch.instead}</p>}
          <ul>
            {no.instead.map((line) => (
              <li key={line}>{line}</li>
            ))}
          </ul>
        </div>
      )}
      {!draft && !no && <p class="soft">{t.loading}</p>}
      {draft && (
        <>
          <BatchFacts batch={draft.card} />
          <Form onSend={() => void start()} button={t.batch.startNow} ready={!busy}>
            <NumberField
              label={t.batch.amount}
              unit={massUnit(units)}
              value={amount === '' ? String(fromKilograms(draft.card.kg_in, units)) : amount}
              onChange={setAmount}
            />
          </Form>
          <Gather lines={draft.card.steps.flatMap((step) => step.gather)} />
          {draft.card.process && <ProcessCard process={draft.card.process} deferTo={draft.card.defer_to} />}
          <h2>{t.batch.steps}</h2>
          <ol class="step-list">
            {draft.card.steps.map((step) => (
              <li key={step.stage}>
                {step.title} <span class="soft">{step.expected}</span>
              </li>
            ))}
          </ol>
        </>
      )}
    </div>
  );
}

export function Gather({ lines }: { lines: string[] }) {
  if (lines.length === 0) return null;
  return (
    <section>
      <h2>{t.batch.gather}</h2>
      <ul class="plain gather">
        {[...new Set(lines)].map((line) => (
          <li key={line}>{line}</li>
        ))}
      </ul>
    </section>
  );
}
