import { useState } from 'preact/hooks';

import type { DiscrepancyView } from '../api/types';
import { act, undoEntry } from '../shared/act';
import { useDrawnDay } from '../shared/drawn';
import type { Draft } from '../shared/entries';
import { whenWords, type Units } from '../shared/format';
import { Heading, Loaded } from '../shared/page';
import type { Turned } from '../shared/store';
import { t } from '../shared/texts';
import { outbox, useTurned } from '../shared/views';
import './settle.css';

/** What does not add up: what two people said that cannot both be so, and what the household could not keep at all. */
export function SettlePage() {
  const day = useDrawnDay();
  const turned = useTurned();
  return (
    <>
      <Heading title={t.settle.heading}>
        <p class="soft">{t.settle.intro}</p>
      </Heading>
      <Loaded seen={day}>
        {({ discrepancies, household }) => (
          <>
            {discrepancies.length + turned.length === 0 && <p>{t.settle.nothing}</p>}
            {discrepancies.map((one) => (
              <Difference key={one.about} one={one} now={household.now} units={household.units} />
            ))}
          </>
        )}
      </Loaded>
      {turned.map((one) => (
        <TurnedDown key={one.id} one={one} />
      ))}
    </>
  );
}

function Difference({ one, now, units }: { one: DiscrepancyView; now: string; units: Units }) {
  const page =
    one.parcel !== ''
      ? '/larder'
      : one.batch !== ''
        ? `/batches/${one.batch}`
        : one.lot !== ''
          ? `/lots/${one.lot}`
          : '';
  const leave = (): void =>
    void act([{ kind: 'discrepancy_settled', what: { about: one.about, how: 'left as it stands' } }], t.settle.left);
  return (
    <section class="settle" aria-label={one.what}>
      <h2>{one.what}</h2>
      <dl>
        {one.said !== '' && (
          <>
            <dt>{t.settle.said(one.who)}</dt>
            <dd>
              {one.said}, {whenWords(one.at, now, units)}
            </dd>
          </>
        )}
        {one.before.length > 0 && (
          <>
            <dt>{t.settle.before}</dt>
            {one.before.map((line) => (
              <dd key={line.entry}>
                {line.words}, {whenWords(line.at, now, units)}
              </dd>
            ))}
          </>
        )}
      </dl>
      <div class="settle-moves">
        <button type="button" onClick={leave}>
          {t.settle.leave}
        </button>
        {one.said !== '' && (
          <button type="button" class="plain-button" onClick={() => void undoEntry(one.about, one.said)}>
            {t.settle.takeBack(one.said)}
          </button>
        )}
        {page !== '' && (
          <a class="button quiet" href={page}>
            {one.parcel !== '' ? t.settle.count : t.settle.look}
          </a>
        )}
      </div>
    </section>
  );
}

/** Something said on this device that the household would not take: said again, or let go by the person, never by us. */
function TurnedDown({ one }: { one: Turned }) {
  const [busy, setBusy] = useState(false);
  const again = async (): Promise<void> => {
    setBusy(true);
    const draft = { kind: one.entry.kind, what: one.entry.what } as Draft;
    if (await act([draft], one.words)) await outbox.dismiss(one.id);
    setBusy(false);
  };
  return (
    <section class="settle" aria-label={t.settle.turned(one.words)}>
      <h2>{t.settle.turned(one.words)}</h2>
      <p>
        {one.message} {one.instead.join(' ')}
      </p>
      <div class="settle-moves">
        <button type="button" disabled={busy} onClick={() => void again()}>
          {t.settle.again}
        </button>
        <button type="button" class="plain-button" onClick={() => void outbox.dismiss(one.id)}>
          {t.settle.dismiss}
        </button>
      </div>
    </section>
  );
}
