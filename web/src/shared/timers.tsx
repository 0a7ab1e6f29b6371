import { useEffect, useRef, useState } from 'preact/hooks';

import { act } from './act';
import { bellSilenced, readyBell, ringBell, silenceBell } from './bell';
import { calendarFile } from './calendar';
import { countdown, lengthWords, listWords } from './format';
import { askToNotify, mayAsk, notifyOf, withdraw } from './notify';
import { runningTimers, type Running } from './pending';
import { t } from './texts';
import { useDay, usePending } from './views';

/** Milliseconds now, ticking each second while anything runs, and at once when the page is seen again. */
export function useNow(running: boolean): number {
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

/** The bell rings when a timer is due, and again and again until somebody stops the timer. */
const kRingAgainMs = 20_000;

/** Whether the bell is struck between two looks at the clock. */
export function ringsBetween(timer: Running, before: number, now: number): boolean {
  const over = now - timer.deadline;
  if (over < 0 || now <= before) return false;
  return Math.floor(over / kRingAgainMs) > Math.floor((before - timer.deadline) / kRingAgainMs);
}

/** Every running timer, at the top of every page; rings when one is due, until it is stopped. */
export function TimersBar() {
  const day = useDay();
  const entries = usePending(day);
  const timers = runningTimers(day.data?.timers ?? [], day.at, entries);
  const now = useNow(timers.length > 0);
  const before = useRef(now);
  const [spoken, setSpoken] = useState('');
  const [silenced, setSilenced] = useState(bellSilenced);
  const [canAsk, setCanAsk] = useState(mayAsk);

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
    if (timers.some((timer) => ringsBetween(timer, before.current, now))) ringBell();
    for (const timer of timers) if (before.current < timer.deadline && now >= timer.deadline) notifyOf(timer);
    before.current = now;
    if (marks.length > 0) setSpoken(marks.join(' '));
  }, [now]);

  const upcoming = timers.filter((timer) => timer.deadline > now);
  return (
    <section class="timers" aria-label={t.timers.heading} hidden={timers.length === 0}>
      <ul>
        {timers.map((timer, i) => (
          <TimerLine key={timer.id} timer={timer} now={now} short={i > 0} />
        ))}
      </ul>
      <div class="timers-more">
        {upcoming.length > 0 && (
          <a
            class="quiet"
            href={calendarFile(upcoming)}
            download="stillroom-timers.ics"
            aria-label={t.timers.calendarOf(listWords(upcoming.map((timer) => timer.name)))}
          >
            {t.timers.calendar}
          </a>
        )}
        {canAsk && (
          <button type="button" class="quiet" onClick={() => void askToNotify().then(() => setCanAsk(mayAsk()))}>
            {t.timers.notify}
          </button>
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

/** One timer. `short`: beside others, in half a line; never one that is up. */
function TimerLine({ timer, now, short }: { timer: Running; now: number; short: boolean }) {
  const seconds = (timer.deadline - now) / 1000;
  const due = seconds <= 0;
  const stop = (): void => {
    withdraw(timer);
    void act([{ kind: 'timer_stopped', what: { timer: timer.id } }], t.timers.stopped(timer.name));
  };
  return (
    <li class={due ? 'timer timer-due' : short ? 'timer timer-short' : 'timer'}>
      {timer.batch === '' ? (
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
