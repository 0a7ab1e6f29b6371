import { useState } from 'preact/hooks';

import type { DayView, NextView } from '../api/types';
import { act } from '../shared/act';
import type { Draft } from '../shared/entries';
import { Figure } from '../shared/figure';
import { go } from '../shared/router';
import { t } from '../shared/texts';
import { useWaiting } from '../shared/views';

/** The one next thing: large, why in one line, one button. */
export function Next({ day }: { day: DayView }) {
  const next = day.next;
  const [busy, setBusy] = useState(false);
  // The plan has not heard of what was just done, so it may offer it again: the button waits for the newer one.
  const notHeard = useWaiting().length > 0;
  const held = busy || day.plan_stale;
  const press = async (): Promise<void> => {
    const address = addressOf(next);
    if (address !== '') {
      go(address);
      return;
    }
    const done = draftOf(next);
    if (!done) return;
    setBusy(true);
    await act([done], next.title);
    setBusy(false);
  };
  const who = [next.hands, next.minutes].filter((part) => part !== '');
  return (
    <section class="next" aria-labelledby="next">
      <h2 id="next" class="next-label">
        {t.today.next}
      </h2>
      <p class="next-title">{next.title}</p>
      {next.why !== '' && (
        <p class="next-why">{next.detail === '' ? next.why : <Figure words={next.why} how={[next.detail]} />}</p>
      )}
      {who.length > 0 && <p class="soft">{who.join(', ')}</p>}
      {next.action !== 'none' && next.button !== '' && (
        <button type="button" class="main next-button" disabled={held} onClick={() => void press()}>
          {next.button}
        </button>
      )}
      {day.plan_stale && <p class="soft">{t.today.stale}</p>}
      {notHeard && <p class="soft">{t.today.notHeard}</p>}
    </section>
  );
}

/** Where the button leads, for things that want another look before they are done. Exported for its test. */
export function addressOf(next: NextView): string {
  switch (next.action) {
    case 'start_batch':
      return `/start-batch?${new URLSearchParams({ route: next.route, lot: next.lot, kg: String(next.kg) })}`;
    case 'next_stage':
      return `/batches/${next.batch}`;
    case 'check_seals':
      return next.batch === '' ? `/larder#${next.parcel}` : `/batches/${next.batch}`;
    case 'pick':
      return `/lots/${next.lot}?do=pick`;
    case 'butcher':
      return '/butchering';
    case 'give_away':
      return `/lots/${next.lot}?do=give`;
    case 'bring_in':
      return '/bring-in';
    default:
      return '';
  }
}

export function draftOf(next: NextView): Draft | null {
  if (next.action === 'move') return { kind: 'moved', what: { parcel: next.lot, place: next.place } };
  if (next.action === 'other_work') return { kind: 'other_work_done', what: { key: next.other } };
  return null;
}
