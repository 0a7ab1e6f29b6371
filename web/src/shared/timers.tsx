import { useEffect, useRef, useState } from 'preact/hooks';

import { act } from './act';
import { bellSilenced, readyBell, ringBell, silenceBell } from './bell';
import { calendarFile } from './calendar';
import { countdown, lengthWords } from './format';
import { runningTimers, type Running } from './pending';
import { t } from './texts';
import { useDay, useWaiting } from './views';

/** Milliseconds now, ticking each second while anything runs, and at once when the page is seen again. */
function useNow(running: boolean): number {
  const [now, setNow] = useState(Date.now);
  useEffect(() => {
    if (!running) return undefined;
    const tick = (): void => setNow(Date.now());
    const interval = setInterval(tick, 1000);
    document.addEventListener('visibilitychange', tick);
    tick();
    return () => {
      clearInterval(interval);
      document.removeEventListener('visibilitychange', tick);
    };
  }, [running]);
  return now;
}

/** What to say aloud when a timer crosses one of its marks, and nothing in between. */
export function spokenMark(timer: Running, before: number, now: number): string {
  for (const minutes of [0, 1, 5]) {
    const mark = timer.deadline - minutes * 60_000;
    if (before < mark && now >= mark) {
      return minutes === 0 ? t.timers.done(timer.name) : t.timers.left(timer.name, lengthWords(minutes));
    }
  }
  return '';
}

/** Every running timer, at the top of every page; rings once when one is due. */
export function TimersBar() {
  const day = useDay();
  const entries = useWaiting().map((waiting) => waiting.entry);
  const timers = runningTimers(day.data?.timers ?? [], day.at, entries);
  const now = useNow(timers.length > 0);
  const before = useRef(now);
  const [spoken, setSpoken] = useState('');
  const [silenced, setSilenced] = useState(bellSilenced);

  useEffect(() => {
    const ready = (): void => readyBell();
    document.addEventListener('pointerdown', ready, { once: true });
    document.addEventListener('keydown', ready, { once: true });
    return () => {
      document.removeEventListener('pointerdown', ready);
      document.removeEventListener('keydown', ready);
    };
  }, []);
  useEffect(() => {
    const marks = timers.map((timer) => spokenMark(timer, before.current, now)).filter((mark) => mark !== '');
    if (timers.some((timer) => before.current < timer.deadline && now >= timer.deadline)) ringBell();
    before.current = now;
    if (marks.length > 0) setSpoken(marks.join(' '));
  }, [now]);

  const upcoming = timers.find((timer) => timer.deadline > now);
  return (
    <section class="timers" aria-label={t.timers.heading} hidden={timers.length === 0}>
      <ul>
        {timers.map((timer) => (
          <TimerLine key={timer.id} timer={timer} now={now} />
        ))}
      </ul>
      <div class="timers-more">
        {upcoming && (
          <a
            class="quiet"
            href={calendarFile(upcoming.id, upcoming.name, upcoming.deadline)}
            download="stillroom-timer.ics"
            aria-label={t.timers.calendarOf(upcoming.name)}
          >
            {t.timers.calendar}
          </a>
        )}
        <button
          type="button"
          class="quiet"
          aria-pressed={!silenced}
          onClick={() => {
            silenceBell(!silenced);
            setSilenced(!silenced);
          }}
        >
          {silenced ? t.timers.bellOff : t.timers.bellOn}
        </button>
      </div>
      <p class="spoken" aria-live="assertive">
        {spoken}
      </p>
    </section>
  );
}

function TimerLine({ timer, now }: { timer: Running; now: number }) {
  const seconds = (timer.deadline - now) / 1000;
  const due = seconds <= 0;
  const stop = (): void =>
    void act([{ kind: 'timer_stopped', what: { timer: timer.id } }], t.timers.stopped(timer.name));
  return (
    <li class={due ? 'timer timer-due' : 'timer'}>
      {/^0*$/.test(timer.batch) ? (
        <span class="timer-name">
          {timer.name}
          {timer.note !== '' && <span class="soft"> {timer.note}</span>}
        </span>
      ) : (
        <a href={`/batches/${timer.batch}`} class="timer-name">
          {timer.name}
          {timer.batchName !== '' && <span class="soft"> {timer.batchName}</span>}
        </a>
      )}
      <span class="timer-clock" role="timer" aria-live="off">
        {due ? t.timers.due(countdown(seconds)) : countdown(seconds)}
      </span>
      <button type="button" class="quiet" onClick={stop} aria-label={t.timers.stopOf(timer.name)}>
        {t.timers.stop}
      </button>
    </li>
  );
}
