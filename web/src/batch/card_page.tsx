import type { BatchView, StepView } from '../api/types';
import { lengthWords, listWords, timeWords } from '../shared/format';
import { Heading, Loaded } from '../shared/page';
import { t } from '../shared/texts';
import { useView } from '../shared/views';
import { BatchFacts } from './facts';
import { ProcessCard } from './process_card';
import './batch.css';
import './card.css';

/** The whole batch on paper: what to gather, every step with its caution, and the process of each load. */
export function CardPage({ id }: { id: string }) {
  const seen = useView<BatchView>(`/batches/${id}`);
  return (
    <>
      {!seen.data && <Heading title={t.card.heading} />}
      <Loaded seen={seen}>{(batch) => <Card batch={batch} />}</Loaded>
    </>
  );
}

function Card({ batch }: { batch: BatchView }) {
  const gather = [...new Set(batch.steps.flatMap((step) => step.gather))];
  return (
    <article class="card">
      <Heading title={batch.name}>
        <div class="card-tools">
          <button type="button" onClick={() => window.print()}>
            {t.card.print}
          </button>
          <a class="quiet" href={`/batches/${batch.id}`}>
            {t.card.back}
          </a>
        </div>
      </Heading>
      <BatchFacts batch={batch} />
      {batch.next_code !== '' && batch.packed_parcel === '' && (
        <p>
          {t.batch.code} <strong class="code">{batch.next_code}</strong>
        </p>
      )}
      {gather.length > 0 && (
        <section>
          <h2>{t.batch.gather}</h2>
          <ul class="card-gather">
            {gather.map((line) => (
              <li key={line}>{line}</li>
            ))}
          </ul>
        </section>
      )}
      <h2>{t.batch.steps}</h2>
      <ol class="card-steps">
        {batch.steps.map((step) => (
          <CardStep key={step.stage} step={step} batch={batch} />
        ))}
      </ol>
      <p class="card-room">{t.card.packed(batch.pack)}</p>
      {batch.went_wrong.map((line) => (
        <p key={line}>{line}</p>
      ))}
      {batch.not_food !== '' && <p class="caution">{batch.not_food}</p>}
      {batch.processed !== '' && <p class="processed">{batch.processed}</p>}
      {batch.defer_to !== '' && <p class="small-print">{batch.defer_to}</p>}
    </article>
  );
}

function CardStep({ step, batch }: { step: StepView; batch: BatchView }) {
  const { units } = batch.household;
  const about = [
    step.expected,
    step.attention === 'hands_on' ? '' : t.attention[step.attention],
    step.hands.length > 0 ? t.batch.hands(listWords(step.hands)) : '',
  ].filter((part) => part !== '');
  const times = [step.started, step.finished].map((at) => (at === '' ? '' : timeWords(at, units)));
  return (
    <li class={step.state === 'done' ? 'card-step card-done' : 'card-step'}>
      <h3>
        {step.title} <span class="soft">{about.join(', ')}</span>
      </h3>
      {step.caution !== '' && <p class="caution">{step.caution}</p>}
      {step.put_down_words !== '' && <p class="cannot-wait">{step.put_down_words}</p>}
      <p>{step.text}</p>
      {step.looks_right !== '' && (
        <p class="looks-right">
          <strong>{t.batch.looksRight}</strong> {step.looks_right}
        </p>
      )}
      {step.timers.length > 0 && (
        <p>
          {t.card.timers(listWords(step.timers.map((one) => `${one.name}, ${lengthWords(one.seconds_left / 60)}`)))}
        </p>
      )}
      {step.shows_process && batch.process && <ProcessCard process={batch.process} deferTo="" />}
      <p class="card-room">{t.card.times(times[0] ?? '', times[1] ?? '')}</p>
    </li>
  );
}
