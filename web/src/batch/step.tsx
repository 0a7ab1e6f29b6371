import type { BatchView, StepView, TimerView } from '../api/types';
import { act } from '../shared/act';
import { instant, newId } from '../shared/entries';
import { householdNow } from '../shared/clock';
import { lengthWords, listWords } from '../shared/format';
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
      <p class="step-text">{step.text}</p>
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
    </section>
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
