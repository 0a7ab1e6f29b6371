import type { AheadDay, AheadView, HouseholdView } from '../api/types';
import { dayWords, hoursWords } from '../shared/format';
import { Heading, Loaded } from '../shared/page';
import { t } from '../shared/texts';
import { useView } from '../shared/views';
import { Strips } from '../strips/strips';
import { byHand, Hand } from '../today/rest_of_today';
import './ahead.css';

const kAll = 1000;

export function AheadPage() {
  const ahead = useView<AheadView>('/ahead');
  return (
    <>
      <Heading title={t.nav.ahead}>
        <p class="soft">{t.ahead.intro}</p>
      </Heading>
      <Loaded seen={ahead}>
        {(data) => (
          <>
            {data.days.map((day) => (
              <Day key={day.date} day={day} household={data.household} />
            ))}
            <h2>{t.today.waiting}</h2>
            <Strips strips={data.strips} household={data.household} />
          </>
        )}
      </Loaded>
    </>
  );
}

function Day({ day, household }: { day: AheadDay; household: HouseholdView }) {
  const said = dayWords(day.date, household.now);
  const heading =
    said === 'today' || said === 'tomorrow' ? `${said}, ${day.weekday}` : `${day.weekday} ${day.date.slice(8)}`;
  const full = day.hours_planned > day.hours_free;
  return (
    <section class="ahead-day" aria-label={heading}>
      <header>
        <h2>{heading.charAt(0).toUpperCase() + heading.slice(1)}</h2>
        {day.weather !== '' && <p>{day.weather}</p>}
        <p class="soft">
          {t.ahead.hours(hoursWords(day.hours_planned), hoursWords(day.hours_free))}
          {full && ` ${t.ahead.full}`}
        </p>
        <meter
          min={0}
          max={Math.max(day.hours_free, day.hours_planned, 0.1)}
          value={day.hours_planned}
          aria-hidden="true"
        />
      </header>
      {day.tasks.length === 0 ? (
        <p class="soft">{t.ahead.free}</p>
      ) : (
        byHand(day.tasks).map((group) => <Hand key={group.hand} group={group} household={household} most={kAll} />)
      )}
    </section>
  );
}
