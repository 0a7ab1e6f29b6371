import { useState } from 'preact/hooks';

import type { BatchView, LarderView } from '../api/types';
import { act } from '../shared/act';
import { Form, NumberField } from '../shared/form';
import { countWords, dateWords, readNumber, whenWords } from '../shared/format';
import { t } from '../shared/texts';
import { useView } from '../shared/views';

/** After packing: where it lies, and the next day's look at the lids. */
export function SealCheck({ batch }: { batch: BatchView }) {
  const larder = useView<LarderView>('/larder').data;
  const pack = larder?.shelves.flatMap((shelf) => shelf.packs).find((one) => one.parcel === batch.packed_parcel);
  const { now, units } = batch.household;
  const total = pack?.packs ?? batch.packs_expected;
  const unchecked = batch.seal_check_due && (pack?.seals_unchecked ?? true);
  const early = batch.seal_check_from > now;
  return (
    <section class="packing" aria-labelledby="put-by">
      <h2 id="put-by">{t.batch.putBy}</h2>
      <p>
        {t.batch.putByWords(countWords(total), batch.pack, pack?.place ?? batch.store_in)}{' '}
        {batch.eat_by !== '' && t.batch.eatBy(dateWords(batch.eat_by))}
      </p>
      {pack?.code && (
        <p>
          {t.batch.code} <strong class="code">{pack.code}</strong>
        </p>
      )}
      {unchecked && !early && <SealForm parcel={batch.packed_parcel} total={total} name={batch.name} />}
      {unchecked && early && <p>{t.batch.sealsLater(whenWords(batch.seal_check_from, now, units))}</p>}
      <p>
        <a href="/larder">{t.nav.larder}</a>
      </p>
    </section>
  );
}

export function SealForm({ parcel, total, name }: { parcel: string; total: number; name: string }) {
  const [failed, setFailed] = useState('0');
  const bad = readNumber(failed);
  const fits = bad !== null && bad <= total;
  const send = (): void => {
    if (!fits) return;
    void act([{ kind: 'seal_checked', what: { parcel, sealed: total - bad, failed: bad } }], t.batch.sealsDone(name));
  };
  return (
    <Form onSend={send} button={t.batch.sealsButton} ready={fits}>
      <p>{t.batch.sealsHow}</p>
      <NumberField label={t.batch.sealsFailed(countWords(total))} value={failed} onChange={setFailed} />
      {fits && bad > 0 && <p class="caution">{t.batch.unsealed}</p>}
    </Form>
  );
}
