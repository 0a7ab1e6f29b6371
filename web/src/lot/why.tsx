import { useEffect, useState } from 'preact/hooks';

import { get } from '../api/client';
import type { Why } from '../api/types';
import { Rejected } from '../shared/outbox';
import { t } from '../shared/texts';

/** Why this lot stands where it does: asked for only when wanted, since it plans the season again a few times. */
export function WhyLot({ id }: { id: string }) {
  const [wanted, setWanted] = useState(false);
  const [why, setWhy] = useState<Why | null>(null);
  const [no, setNo] = useState('');
  useEffect(() => {
    if (!wanted) return undefined;
    const flight = new AbortController();
    get<Why>(`/lots/${id}/why`, flight.signal)
      .then(setWhy)
      .catch((error: unknown) => {
        if (flight.signal.aborted) return;
        setNo(error instanceof Rejected ? error.message : t.offline.needs);
      });
    return () => flight.abort();
  }, [wanted, id]);

  return (
    <section class="why" aria-labelledby="why">
      <h2 id="why">{t.lot.why}</h2>
      {!wanted && (
        <button type="button" class="plain-button" onClick={() => setWanted(true)}>
          {t.lot.askWhy}
        </button>
      )}
      <div aria-live="polite">
        {wanted && !why && no === '' && <p class="soft">{t.lot.working}</p>}
        {no !== '' && <p>{no}</p>}
        {why && <Answer why={why} />}
      </div>
    </section>
  );
}

function Answer({ why }: { why: Why }) {
  return (
    <>
      <ul class="plain">
        {why.sentences.map((line) => (
          <li key={line}>{line}</li>
        ))}
      </ul>
      {why.waiting.length > 0 && (
        <table>
          <caption>{t.lot.waitingTable}</caption>
          <thead>
            <tr>
              <th scope="col">{t.lot.wait}</th>
              <th scope="col">{t.lot.costs}</th>
            </tr>
          </thead>
          <tbody>
            {why.waiting.map((one) => (
              <tr key={one.days}>
                <th scope="row">{t.lot.waitDays(one.days)}</th>
                <td>{t.lot.costWithNoise(one.cost, one.noise)}</td>
              </tr>
            ))}
          </tbody>
        </table>
      )}
      {why.binding !== '' && <p>{t.lot.binding(why.binding)}</p>}
      {why.next_best !== '' && <p>{t.lot.nextBest(why.next_best, why.next_best_loss)}</p>}
      {why.would_save !== '' && <p>{t.lot.wouldSave(why.would_save)}</p>}
    </>
  );
}
