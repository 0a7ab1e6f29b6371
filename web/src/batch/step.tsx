import { useState } from 'preact/hooks';

import type { BatchView, StepView, TimerView } from '../api/types';
import { act } from '../shared/act';
import { instant, newId } from '../shared/entries';
import { householdNow } from '../shared/clock';
import { Fold, Form, TextField } from '../shared/form';
import { lengthWords, listWords, minutesBetween } from '../shared/format';
import { t } from '../shared/texts';
import { Gather } from './start_batch_page';
import { ProcessCard } from './process_card';

/** One step, filling the screen: what could hurt first, then what to do, then its timers. */
export function Step({ step, batch }: { step: StepView; batch: BatchView }) {
  const about = [
    step.expected,
    step.attention === 'hands_on' ? '' : t.attention[step.attention],
    step.hands.length > 0 ? t.batch.hands(listWords(step.hands)) : '',
  ].filter((part) => part !== '');
  return (
    <section class="batch-step" aria-labelledby="step">
      <h2 id="step" class="step-title">
        {step.title}
      </h2>
      {step.caution !== '' && <p class="caution step-caution">{step.caution}</p>}
      {step.put_down_words !== '' && (step.state === 'next' || step.state === 'later') && (
        <p class="cannot-wait">{step.put_down_words}</p>
      )}
      <p class="step-text">{step.text}</p>
      {step.looks_right !== '' && (
        <p class="looks-right">
          <strong>{t.batch.looksRight}</strong> {step.looks_right}
        </p>
      )}
      {about.length > 0 && <p class="soft">{about.join(', ')}</p>}
      {step.shows_process && batch.process && <ProcessCard process={batch.process} deferTo={batch.defer_to} />}
      <Gather lines={step.gather} />
      {step.timers.length > 0 && (
        <div class="step-timers">
          {step.timers.map((timer) => (
            <SetTimer key={timer.name} timer={timer} batch={batch.id} />
          ))}
        </div>
      )}
      {step.shows_process && step.state === 'underway' && <ClockBegan step={step} batch={batch} />}
    </section>
  );
}

/** When the process clock truly began, where nobody tapped in time: written down as the word of whoever says it. */
function ClockBegan({ step, batch }: { step: StepView; batch: BatchView }) {
  const [at, setAt] = useState(step.started.slice(11, 16));
  const send = (): void => {
    const { now, now_utc } = batch.household;
    const ago = minutesBetween(`${now.slice(0, 10)}T${at}`, now);
    // A time that lies ahead was yesterday's.
    const began = instant(Date.parse(now_utc) - (ago < 0 ? ago + 24 * 60 : ago) * 60_000);
    void act(
      [{ kind: 'clock_corrected', what: { batch: batch.id, stage: step.stage, began } }],
      t.batch.clockSaid(at),
    );
  };
  return (
    <Fold title={t.batch.clockEarlier}>
      <Form onSend={send} button={t.batch.clockButton} ready={/^([01]\d|2[0-3]):[0-5]\d$/.test(at)}>
        <p>{t.batch.clockHelp}</p>
        <TextField label={t.batch.clockBegan} value={at} onChange={setAt} />
      </Form>
    </Fold>
  );
}

function SetTimer({ timer, batch }: { timer: TimerView; batch: string }) {
  const minutes = timer.seconds_left / 60;
  const set = (): void => {
    const due = instant(householdNow() + timer.seconds_left * 1000);
    const what = { timer: newId(), batch, name: timer.name, due };
    void act([{ kind: 'timer_set', what }], t.timers.set(timer.name, lengthWords(minutes)));
  };
  return (
    <button type="button" class="plain-button set-timer" onClick={set}>
      {t.timers.start(timer.name, lengthWords(minutes))}
    </button>
  );
}
