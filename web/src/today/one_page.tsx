import { useState } from 'preact/hooks';

import type { BatchView, DayView, TaskView } from '../api/types';
import { Step } from '../batch/step';
import { StepMove } from '../batch/step_bar';
import '../batch/batch.css';
import { act } from '../shared/act';
import { Alone } from '../shared/alone';
import type { Draft } from '../shared/entries';
import { Heading, Loaded } from '../shared/page';
import { batchWithPending } from '../shared/pending';
import { t } from '../shared/texts';
import { useDay, useView, useWaiting } from '../shared/views';
import '../stocktake/stocktake.css';
import { addressOf, draftOf } from './next';
import './today.css';

/** One job of the day as this page shows it. */
export interface Job {
  key: string;
  title: string;
  why: string;
  batch: string;
  /** Where it is done; empty when `done` is all there is to it. */
  address: string;
  button: string;
  done: Draft | null;
}

const addressOfTask = (task: TaskView): string =>
  task.batch !== '' ? `/batches/${task.batch}` : task.lot !== '' ? `/lots/${task.lot}` : '';

/** The one next thing first, then what else the plan has people do today. Exported for its test. */
export function jobsOf(day: DayView): Job[] {
  const { next } = day;
  const first: Job = {
    key: `next ${next.title}`,
    title: next.title,
    why: next.why,
    batch: next.action === 'next_stage' ? next.batch : '',
    address: addressOf(next),
    button: next.button,
    done: draftOf(next),
  };
  const rest = day.today
    .filter((task) => task.attention !== 'unattended' && task.title !== next.title && task.state === 'planned')
    .map((task): Job => ({
      key: `${task.start} ${task.title}`,
      title: task.title,
      why: task.why,
      batch: '',
      address: task.other === '' ? addressOfTask(task) : '',
      button: task.other === '' ? t.one.open : t.one.done,
      done: task.other === '' ? null : { kind: 'other_work_done', what: { key: task.other } },
    }));
  return [...(next.action === 'none' ? [] : [first]), ...rest];
}

/** One thing only, its step, and three moves. */
export function OnePage() {
  const day = useDay();
  const [passed, setPassed] = useState<string[]>([]);
  return (
    <>
      <Heading title={t.one.heading} unseen />
      <p>
        <a class="quiet" href="/">
          {t.one.close}
        </a>
      </p>
      <Loaded seen={day}>
        {(data) => {
          const open = jobsOf(data).filter((job) => !passed.includes(job.key));
          const job = open[0];
          if (!job) return <p class="next-title">{t.one.nothing}</p>;
          const pass = (): void => setPassed([...passed, job.key]);
          return <OneThing key={job.key} job={job} stale={data.plan_stale} pass={pass} more={open.length > 1} />;
        }}
      </Loaded>
    </>
  );
}

function OneThing(props: { job: Job; stale: boolean; pass: () => void; more: boolean }) {
  const { job, stale, pass, more } = props;
  const seen = useView<BatchView>(job.batch === '' ? '' : `/batches/${job.batch}`);
  const waiting = useWaiting().map((one) => one.entry);
  const [busy, setBusy] = useState(false);
  const batch = seen.data ? batchWithPending(seen.data, waiting) : null;
  const step = batch?.steps[batch.current];
  const { done } = job;
  const doIt = async (draft: Draft): Promise<void> => {
    setBusy(true);
    await act([draft], job.title);
    setBusy(false);
  };
  const main =
    batch && step ? (
      <StepMove batch={batch} at={batch.current} />
    ) : done ? (
      <button type="button" class="main" disabled={busy || stale} onClick={() => void doIt(done)}>
        {job.button}
      </button>
    ) : job.address !== '' ? (
      <a class="button main" href={job.address}>
        {job.button}
      </a>
    ) : null;
  return (
    <Alone main={main} cannot={pass} next={more ? pass : null}>
      {batch && step ? (
        <>
          <p class="soft">{batch.name}</p>
          <Step step={step} batch={batch} />
        </>
      ) : (
        <>
          <h2 class="next-title">{job.title}</h2>
          {job.why !== '' && <p class="next-why">{job.why}</p>}
          {stale && <p class="soft">{t.today.stale}</p>}
        </>
      )}
    </Alone>
  );
}
