import { useEffect, useRef, useState } from 'preact/hooks';

import type { HouseholdView, StripView } from '../api/types';
import { Figure } from '../shared/figure';
import { dayNumber, dayWords, whenWords } from '../shared/format';
import { t } from '../shared/texts';
import { labelled, scaleFor, ticks, type Scale } from './geometry';
import { Strip } from './strip';

/** Lots that stand on the page at once: what cannot wait. On paper all do. */
const kFirst = 12;
/** Room for the longest word of the axis. */
const kLabel = 46;

/** Width of an element, followed as it changes. */
export function useWidth(): [width: number, ref: { current: HTMLDivElement | null }] {
  const ref = useRef<HTMLDivElement>(null);
  const [width, setWidth] = useState(0);
  useEffect(() => {
    const element = ref.current;
    if (!element) return undefined;
    const read = (): void => setWidth(element.clientWidth);
    read();
    const observer = new ResizeObserver(read);
    observer.observe(element);
    return () => observer.disconnect();
  }, []);
  return [width, ref];
}

/** Every lot as a fading strip on one scale, the one that waiting costs most on top. */
export function Strips({ strips, household }: { strips: StripView[]; household: HouseholdView }) {
  const [width, ref] = useWidth();
  const scale = scaleFor(strips, width);
  const [all, setAll] = useState(false);
  const late = strips.length - kFirst;
  return (
    <div class="strips" ref={ref}>
      {width > 0 && strips.length > 0 && (
        <>
          <Key />
          <Axis scale={scale} now={household.now} />
          <ol class={all ? 'strip-list strip-all' : 'strip-list'}>
            {strips.map((strip, i) => (
              <StripRow key={strip.lot} strip={strip} late={i >= kFirst} scale={scale} household={household} />
            ))}
          </ol>
          <Axis scale={scale} now={household.now} />
          {late > 0 && (
            <button type="button" class="plain-button" aria-expanded={all} onClick={() => setAll(!all)}>
              {all ? t.strips.fewer : t.strips.others(late)}
            </button>
          )}
        </>
      )}
    </div>
  );
}

export function Axis({ scale, now }: { scale: Scale; now: string }) {
  return (
    <div class="strip-axis" aria-hidden="true">
      {labelled(ticks(scale), kLabel).map(({ days, x }) => (
        <span
          key={days}
          class={days === 0 ? 'first' : x > scale.width - 24 ? 'last' : ''}
          style={{ left: `${(100 * x) / scale.width}%` }}
        >
          {tickWords(days, now)}
        </span>
      ))}
    </div>
  );
}

function tickWords(days: number, now: string): string {
  if (days === 0) return t.strips.now;
  if (days >= 7) return t.strips.weeks(days / 7);
  const date = new Date((dayNumber(now) + days) * 86_400_000).toISOString().slice(0, 10);
  return days === 1 ? t.strips.tomorrow : dayWords(date, now).slice(0, 3);
}

function StripRow(props: { strip: StripView; scale: Scale; household: HouseholdView; late: boolean }) {
  const { strip, scale, household, late } = props;
  return (
    <li class={late ? 'strip-row strip-late' : 'strip-row'}>
      <div class="strip-head">
        <a href={`/lots/${strip.lot}`} class="strip-name">
          {strip.name}
        </a>
        <span class="strip-amount">{strip.amount}</span>
        {strip.days_left.words !== '' && <Figure words={strip.days_left.words} how={t.how.daysLeft(strip)} />}
      </div>
      <Strip strip={strip} scale={scale} now={household.now} />
      <p class="strip-foot">
        <StripNext strip={strip} household={household} />
        {strip.cost_words !== '' && <Figure words={strip.cost_words} how={t.how.cost(strip)} />}
      </p>
      {strip.caution !== '' && <p class="caution">{strip.caution}</p>}
      {strip.waiting && <p class="soft">{t.outbox.notSent}</p>}
    </li>
  );
}

function StripNext({ strip, household }: { strip: StripView; household: HouseholdView }) {
  const where = [strip.standing ? '' : strip.condition, strip.place].filter((part) => part !== '');
  const when = strip.next_at === '' ? '' : whenWords(strip.next_at, household.now, household.units);
  const worked = strip.marks.some((mark) => mark.kind === 'stage');
  return (
    <span class="strip-next">
      <span class="soft">{where.join(', ')}. </span>
      {strip.hazard_by && (
        <strong>{t.strips.hazard(whenWords(strip.hazard_by, household.now, household.units))} </strong>
      )}
      {strip.next_move}
      {when !== '' && `, ${when}`}
      {strip.let_go_reason !== '' && `. ${worked ? t.strips.partLetGo : t.strips.noWork}`}
    </span>
  );
}

/** What the shapes mean, said once. */
function Key() {
  return (
    <details class="strip-key">
      <summary>{t.strips.key}</summary>
      <ul>
        {t.strips.keyLines.map((line) => (
          <li key={line}>{line}</li>
        ))}
      </ul>
    </details>
  );
}
