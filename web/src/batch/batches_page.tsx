import type { BatchView, RunningView } from '../api/types';
import { countdown, timeWords, whenWords } from '../shared/format';
import { Heading, Loaded } from '../shared/page';
import { useDrawnBatch } from '../shared/drawn';
import { runningTimers } from '../shared/pending';
import { t } from '../shared/texts';
import { useNow } from '../shared/timers';
import { useDay, usePending, type Seen } from '../shared/views';
import { StepMove } from './step_bar';
import './batch.css';

/** Several batches at once: where each stands, its clocks, what is due next, and the move that goes on. */
export function BatchesPage() {
  const day = useDay();
  return (
    <>
      <Heading title={t.batches.heading} />
      <Loaded seen={day}>
        {(data) =>
          data.running.length === 0 ? (
            <p>
              {t.batches.none} <a href="/">{t.nav.today}</a>
            </p>
          ) : (
            <div class="batches">
              {mostPressing(data.running, data.timers).map((one) => (
                <OpenBatch key={one.batch} running={one} />
              ))}
            </div>
          )
        }
      </Loaded>
    </>
  );
}

/** Those whose timer is due first stand first; the others as the household has them. Exported for its test. */
export function mostPressing(
  running: RunningView[],
  timers: { batch: string; seconds_left: number }[],
): RunningView[] {
  const left = (one: RunningView): number =>
    Math.min(...timers.filter((timer) => timer.batch === one.batch).map((timer) => timer.seconds_left), Infinity);
  const known = new Map(running.map((one) => [one.batch, left(one)]));
  const of = (one: RunningView): number => known.get(one.batch) ?? Infinity;
  return [...running].sort((a, b) => (of(a) === of(b) ? 0 : of(a) - of(b)));
}

function OpenBatch({ running }: { running: RunningView }) {
  const seen = useDrawnBatch(running.batch);
  return (
    <section class="open-batch" aria-label={running.name}>
      <h2>
        <a href={`/batches/${running.batch}`}>{running.name}</a>
      </h2>
      <Loaded seen={seen}>{(batch) => <Standing batch={batch} seen={seen} />}</Loaded>
    </section>
  );
}

function Standing({ batch, seen }: { batch: BatchView; seen: Seen<BatchView> }) {
  const { now, units } = batch.household;
  const step = batch.steps[batch.current];
  const others = batch.steps.filter((one) => one !== step && (one.state === 'underway' || one.state === 'next'));
  return (
    <>
      <p class="open-step">
        {step ? step.title : t.batch.packing}
        {step && (
          <span class="soft">
            {' '}
            {t.batch.stepStates[step.state]}
            {step.state === 'underway' &&
              step.started !== '' &&
              `, ${t.batches.since(timeWords(step.started, units))}`}
          </span>
        )}
      </p>
      <Clocks batch={batch} seen={seen} />
      {batch.deadlines.map((one) => (
        <p key={one.what} class={one.overdue ? 'caution' : ''}>
          {t.batches.due(one.what, whenWords(one.by, now, units), one.overdue)} {one.overdue && one.when_overdue}
        </p>
      ))}
      {batch.not_before !== '' && <p>{t.batches.notBefore(whenWords(batch.not_before, now, units))}</p>}
      {others.map((one) => (
        <p key={one.stage} class="soft">
          {t.batch.meanwhileStep(one.title, one.state === 'underway')}
        </p>
      ))}
      <div class="open-moves">
        <a class="button" href={`/batches/${batch.id}`}>
          {t.batches.open}
        </a>
        {step && batch.not_before === '' && <StepMove batch={batch} at={batch.current} />}
      </div>
    </>
  );
}

function Clocks({ batch, seen }: { batch: BatchView; seen: Seen<BatchView> }) {
  const waiting = usePending(seen);
  const timers = runningTimers(batch.timers, seen.at, waiting).filter((one) => one.batch === batch.id);
  const now = useNow(timers.length > 0);
  if (timers.length === 0) return null;
  return (
    <ul class="plain">
      {timers.map((timer) => {
        const seconds = (timer.deadline - now) / 1000;
        const due = seconds <= 0;
        return (
          <li key={timer.id} class={due ? 'timer timer-due' : 'timer'}>
            <span class="timer-name">{timer.name}</span>
            <span class="timer-clock">{due ? t.timers.due(countdown(seconds)) : countdown(seconds)}</span>
          </li>
        );
      })}
    </ul>
  );
}
