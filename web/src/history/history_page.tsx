import type { HistoryLine } from '../api/types';
import { History } from '../lot/lot_page';
import { Heading, Loaded } from '../shared/page';
import { t } from '../shared/texts';
import { useDay, useView, useWaiting } from '../shared/views';

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
