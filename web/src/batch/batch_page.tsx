import { useEffect, useState } from 'preact/hooks';

import type { BatchView } from '../api/types';
import { act } from '../shared/act';
import { Check, Fold, TextField } from '../shared/form';
import { Heading, Loaded } from '../shared/page';
import { useDrawnBatch } from '../shared/drawn';
import { runningTimers } from '../shared/pending';
import { t } from '../shared/texts';
import { usePending } from '../shared/views';
import { BatchFacts } from './facts';
import { ProcessCard } from './process_card';
import { Packing } from './packing';
import { SealCheck } from './seal_check';
import { Step } from './step';
import { StepBar } from './step_bar';
import { befallenBatch, Trouble } from './trouble';
import { useWakeLock } from './wake_lock';
import './batch.css';

export function BatchPage({ id }: { id: string }) {
  const seen = useDrawnBatch(id);
  const waiting = usePending(seen);
  if (!seen.data) {
    return (
      <>
        <Heading title={t.batch.heading} />
        <Loaded seen={seen}>{() => null}</Loaded>
      </>
    );
  }
  return (
    <Loaded seen={seen}>
      {(batch) => (
        <Batch
          batch={batch}
          seen={seen.offline}
          timed={runningTimers(batch.timers, seen.at, waiting).some((one) => one.batch === batch.id)}
        />
      )}
    </Loaded>
  );
}

function Batch({ batch, seen, timed }: { batch: BatchView; seen: boolean; timed: boolean }) {
  const [looking, setLooking] = useState<number | null>(null);
  const awake = useWakeLock(timed);
  const at = looking ?? batch.current;
  const step = batch.steps[at];
  // A step that was just done is left behind; one that is only looked at stays.
  useEffect(() => setLooking(null), [batch.current]);

  return (
    <article class="batch">
      <Heading title={batch.name}>
        <p class="soft">
          {step ? t.batch.stepOf(at + 1, batch.steps.length) : t.states[batch.state]}
          {seen && `, ${t.offline.short}`}
        </p>
      </Heading>
      {at === 0 && batch.state !== 'finished' && <BatchFacts batch={batch} />}
      {step && batch.state !== 'finished' && batch.state !== 'abandoned' ? (
        <>
          <Packed batch={batch} />
          <Step step={step} batch={batch} />
          <Meanwhile batch={batch} at={at} onLook={setLooking} />
          <StepBar batch={batch} at={at} onLook={setLooking} />
        </>
      ) : (
        <End batch={batch} />
      )}
      <div class="batch-more">
        <Fold title={t.batch.wrong}>
          <Trouble about={befallenBatch(batch)} />
          <GiveUp batch={batch} />
        </Fold>
        <Fold title={t.batch.steps}>
          <ol class="step-list">
            {batch.steps.map((one, i) => (
              <li key={one.stage} class={`step-${one.state}`}>
                <button type="button" class="plain-button" onClick={() => setLooking(i)}>
                  {one.title}
                </button>{' '}
                <span class="soft">{t.batch.stepStates[one.state]}</span>
              </li>
            ))}
          </ol>
          {batch.process && !step?.shows_process && <ProcessCard process={batch.process} deferTo={batch.defer_to} />}
        </Fold>
        <p>
          <a class="quiet" href={`/batches/${batch.id}/card`}>
            {t.card.link}
          </a>
        </p>
        {awake.able && (
          <button type="button" class="quiet" aria-pressed={awake.on} onClick={awake.toggle}>
            {awake.on ? t.batch.awakeOn : t.batch.awakeOff}
          </button>
        )}
      </div>
    </article>
  );
}

function End({ batch }: { batch: BatchView }) {
  if (batch.state === 'abandoned') return <p>{t.batch.wasGivenUp}</p>;
  if (batch.packed_parcel === '') return <Packing batch={batch} />;
  return (
    <>
      <Packed batch={batch} />
      <SealCheck batch={batch} />
    </>
  );
}

/** What its packs say of themselves, while steps are still to be done. */
function Packed({ batch }: { batch: BatchView }) {
  const doubt = batch.in_doubt.find((one) => one.parcel === batch.packed_parcel)?.why ?? '';
  const caution = batch.not_food !== '' ? batch.not_food : doubt;
  return (
    <>
      {caution !== '' && <p class="caution">{caution}</p>}
      {batch.processed !== '' && <p class="processed">{batch.processed}</p>}
    </>
  );
}

/** Other loads go on beside this step: what is underway or may begin now. */
function Meanwhile({ batch, at, onLook }: { batch: BatchView; at: number; onLook: (at: number) => void }) {
  const others = batch.steps
    .map((step, i) => ({ step, i }))
    .filter(({ step, i }) => i !== at && (step.state === 'underway' || step.state === 'next'));
  if (others.length === 0) return null;
  return (
    <nav class="meanwhile" aria-label={t.batch.meanwhile}>
      <p class="soft">{t.batch.meanwhile}</p>
      {others.map(({ step, i }) => (
        <button key={step.stage} type="button" class="plain-button" onClick={() => onLook(i)}>
          {t.batch.meanwhileStep(step.title, step.state === 'underway')}
        </button>
      ))}
    </nav>
  );
}

function GiveUp({ batch }: { batch: BatchView }) {
  const [why, setWhy] = useState('');
  const [sound, setSound] = useState(false);
  const giveUp = (): void => {
    const what = { batch: batch.id, why, give_back: sound };
    void act([{ kind: 'batch_abandoned', what }], t.batch.gaveUp(batch.name));
  };
  if (batch.packed_parcel !== '' || batch.state === 'abandoned') return null;
  return (
    <Fold title={t.batch.giveUp}>
      <TextField label={t.batch.giveUpWhy} value={why} onChange={setWhy} />
      <Check label={t.batch.giveBack} checked={sound} onChange={setSound} />
      <button type="button" class="plain-button" onClick={giveUp}>
        {t.batch.giveUpButton}
      </button>
    </Fold>
  );
}
