import type { DayView } from '../api/types';
import { Figure } from '../shared/figure';
import { timeWords } from '../shared/format';
import { Heading, Line, Loaded } from '../shared/page';
import { t } from '../shared/texts';
import { useDrawnDay } from '../shared/drawn';
import { Strips } from '../strips/strips';
import { DayChart } from './day_chart';
import { Next } from './next';
import { OneJob } from './one_job';
import { RestOfToday } from './rest_of_today';
import './today.css';

export function TodayPage() {
  const day = useDrawnDay();
  return (
    <>
      <Heading title={t.nav.today} unseen />
      <Loaded seen={day}>{(data) => <Day day={data} />}</Loaded>
    </>
  );
}

function Day({ day }: { day: DayView }) {
  const going = day.strips.filter((strip) => strip.let_go_reason !== '');
  return (
    <div class="day">
      <div class="day-now">
        <Next day={day} />
        <p class="day-ways">
          <a class="quiet" href="/one">
            {t.today.one}
          </a>
          <a class="quiet" href="/help">
            {t.help.link}
          </a>
        </p>
        <Running day={day} />
        <Notices day={day} />
        <Clashes day={day} />
        <section aria-labelledby="rest">
          <h2 id="rest">{t.today.rest}</h2>
          <DayChart tasks={day.today} household={day.household} />
          <RestOfToday tasks={day.today} household={day.household} />
          <OneJob household={day.household} />
        </section>
      </div>
      <section class="day-strips" aria-labelledby="waiting">
        <h2 id="waiting">{t.today.waiting}</h2>
        {day.strips.length === 0 && day.plan_stale ? (
          <p>{t.today.stale}</p>
        ) : day.strips.length === 0 ? (
          <p>
            {t.today.nothingWaits} <a href="/bring-in">{t.nav.bringIn}</a>
          </p>
        ) : (
          <Strips strips={day.strips} household={day.household} />
        )}
        {going.length > 0 && (
          <section aria-labelledby="let-go">
            <h2 id="let-go">{t.today.letGo}</h2>
            <ul class="lines">
              {going.map((strip) => (
                <Line key={strip.lot} margin={strip.amount}>
                  <a href={`/lots/${strip.lot}`}>{strip.name}</a>
                  <p>{strip.let_go_reason}</p>
                </Line>
              ))}
            </ul>
          </section>
        )}
        {day.strips.length > 0 && (
          <p class="soft plan-worth">
            {t.today.planWorth}{' '}
            <Figure words={t.today.dollars(day.objective.total)} how={t.how.plan(day.objective)} />
          </p>
        )}
      </section>
    </div>
  );
}

function Running({ day }: { day: DayView }) {
  if (day.running.length === 0) return null;
  return (
    <section aria-labelledby="running">
      <h2 id="running">{t.today.running}</h2>
      <ul class="lines">
        {day.running.map((one) => (
          <Line key={one.batch} margin={timeWords(one.since, day.household.units)}>
            <a href={`/batches/${one.batch}`}>{one.name}</a>
            <p>
              {one.title}
              <span class="soft">, {t.states[one.state] ?? one.state}</span>
            </p>
            <progress value={one.progress} max={1} aria-label={t.today.progress(one.name)} />
          </Line>
        ))}
      </ul>
      <p>
        <a class="quiet" href="/batches">
          {t.batches.link}
        </a>
      </p>
    </section>
  );
}

function Clashes({ day }: { day: DayView }) {
  if (day.clashes.length === 0) return null;
  return (
    <section class="notices" aria-labelledby="clashes">
      <h2 id="clashes">{t.today.clashes}</h2>
      <ul>
        {day.clashes.map((clash) => (
          <li key={clash.what}>
            {clash.what} <span class="soft">{clash.way_out}</span>
          </li>
        ))}
      </ul>
    </section>
  );
}

function Notices({ day }: { day: DayView }) {
  if (day.notices.length + day.discrepancies.length === 0) return null;
  return (
    <section class="notices" aria-labelledby="notices">
      <h2 id="notices">{t.today.notices}</h2>
      <ul>
        {day.notices.map((line) => (
          <li key={line}>{line}</li>
        ))}
        {day.discrepancies.map((one) => (
          <li key={one.about}>
            <a href="/settle">{t.today.doesNotAddUp}</a> {one.what}
          </li>
        ))}
      </ul>
    </section>
  );
}
