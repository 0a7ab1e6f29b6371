import { useState } from 'preact/hooks';

import type { BatchView, TroubleSpan, TroubleView } from '../api/types';
import { act } from '../shared/act';
import { Form, NumberField, Select } from '../shared/form';
import { readNumber } from '../shared/format';
import { t } from '../shared/texts';

/** What to do, by the time that is said. Exported for its test. Nobody knowing the time is no span: throw it out. */
export function spanFor(trouble: TroubleView, minutes: number | null): TroubleSpan | null {
  if (trouble.asks === '') return trouble.spans[0] ?? null;
  if (minutes === null || minutes < 0) return null;
  return (
    trouble.spans.find((one) => minutes >= one.from_min && (one.to_min === null || minutes < one.to_min)) ?? null
  );
}

/** Pick what happened, answer what is asked, read what to do, one tap to write it down. */
export function Trouble({ batch }: { batch: BatchView }) {
  const [fault, setFault] = useState('');
  const [minutes, setMinutes] = useState('');
  const trouble = batch.troubles.find((one) => one.fault === fault);
  return (
    <div class="trouble">
      <Select
        label={t.trouble.what}
        value={fault}
        none={t.trouble.choose}
        onChange={(key) => {
          setFault(key);
          setMinutes('');
        }}
        options={batch.troubles.map((one) => ({ key: one.fault, name: one.what }))}
      />
      {trouble && trouble.see !== '' && <p class="soft">{trouble.see}</p>}
      {trouble && trouble.asks !== '' && (
        <NumberField label={trouble.asks} value={minutes} onChange={setMinutes} unit={t.trouble.minutes} />
      )}
      {trouble && <Answer key={fault} batch={batch} trouble={trouble} minutes={readNumber(minutes)} />}
      {!trouble && <p>{t.batch.inDoubt}</p>}
      {batch.went_wrong.length > 0 && (
        <ul class="plain">
          {batch.went_wrong.map((line) => (
            <li key={line}>{line}</li>
          ))}
        </ul>
      )}
    </div>
  );
}

function Answer({ batch, trouble, minutes }: { batch: BatchView; trouble: TroubleView; minutes: number | null }) {
  const span = spanFor(trouble, minutes);
  const setting = trouble.fault === 'wrong_setting';
  const step = batch.steps[batch.current];
  // While one load of several is in the canner, only that load is concerned.
  const stage = batch.packed_parcel === '' && step?.shows_process ? step.stage : '';
  const send = (outcome: string): void => {
    const what = {
      fault: trouble.fault,
      outcome,
      batch: batch.id,
      stage: outcome === 'process_again' ? stage : '',
      parcels: setting ? batch.in_doubt.map((one) => one.parcel) : [],
      ...(minutes === null ? {} : { elapsed_min: minutes }),
    };
    void act([{ kind: 'trouble_met', what }], t.trouble.written(trouble.what));
  };
  if (!span && trouble.asks !== '' && minutes === null) {
    return (
      <Form onSend={() => send('discard')} button={t.trouble.nobodyKnows}>
        <p>{t.trouble.sayHowLong}</p>
      </Form>
    );
  }
  const outcomes = span?.outcomes ?? ['discard'];
  return (
    <section class="trouble-answer" aria-live="polite">
      <p class="step-text">{span?.then ?? t.trouble.throwOut}</p>
      {setting && batch.in_doubt.length > 0 && (
        <ul class="plain">
          {batch.in_doubt.map((one) => (
            <li key={one.parcel}>{one.name}</li>
          ))}
        </ul>
      )}
      {setting && batch.in_doubt.length === 0 && batch.packed_parcel !== '' && <p>{t.trouble.settingsFirst}</p>}
      <div class="trouble-outcomes">
        {outcomes.map((outcome) => (
          <button
            key={outcome}
            type="button"
            class={outcome === outcomes[0] ? 'main' : 'plain-button'}
            onClick={() => send(outcome)}
          >
            {t.trouble.outcomes[outcome] ?? outcome}
          </button>
        ))}
      </div>
      {span && <p class="small-print">{t.trouble.source(span.source)}</p>}
    </section>
  );
}
