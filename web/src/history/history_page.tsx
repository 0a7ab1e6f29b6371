import { useEffect, useState } from 'preact/hooks';

import type { HistoryLine } from '../api/types';
import { History } from '../lot/lot_page';
import { Heading, Loaded } from '../shared/page';
import type { Turned } from '../shared/store';
import { t } from '../shared/texts';
import { store, useDay, useView, useWaiting } from '../shared/views';

export function HistoryPage() {
  const seen = useView<HistoryLine[]>('/history');
  const household = useDay().data?.household ?? null;
  const waiting = useWaiting();
  return (
    <>
      <Heading title={t.nav.history}>
        <p class="soft">{t.history.intro}</p>
      </Heading>
      {waiting.length > 0 && (
        <section aria-labelledby="waits">
          <h2 id="waits">{t.history.waiting}</h2>
          <ul class="plain">
            {waiting.map((one) => (
              <li key={one.entry.id}>{one.words}</li>
            ))}
          </ul>
        </section>
      )}
      <TurnedDown />
      <Loaded seen={seen}>
        {(lines) =>
          lines.length === 0 ? (
            <p>{t.history.empty}</p>
          ) : (
            <History lines={lines} now={household?.now ?? ''} units={household?.units ?? 'us'} />
          )
        }
      </Loaded>
    </>
  );
}

/** What this phone said and the household would not take: nothing a person said is dropped in silence. */
function TurnedDown() {
  const [turned, setTurned] = useState<Turned[]>([]);
  useEffect(() => {
    void store.then((db) => db.getAll('turned')).then(setTurned);
  }, []);
  if (turned.length === 0) return null;
  const forget = (): void => {
    void store.then((db) => db.clear('turned'));
    setTurned([]);
  };
  return (
    <section aria-labelledby="turned">
      <h2 id="turned">{t.history.turned}</h2>
      <ul class="plain">
        {turned.map((one) => (
          <li key={one.id}>
            {one.words}: {one.message} {one.instead.join(' ')}
          </li>
        ))}
      </ul>
      <button type="button" class="plain-button" onClick={forget}>
        {t.history.forget}
      </button>
    </section>
  );
}
