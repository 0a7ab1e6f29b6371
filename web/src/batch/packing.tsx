import { useState } from 'preact/hooks';

import type { BatchView, Snapshot } from '../api/types';
import { act } from '../shared/act';
import { newId } from '../shared/entries';
import { Form, NumberField, Select } from '../shared/form';
import { countWords, dayNumber, readNumber } from '../shared/format';
import { t } from '../shared/texts';
import type { Waiting } from '../shared/store';
import { useView, useWaiting } from '../shared/views';

const kDaysInMonth = 30.4375;

/**
 * The first code that this device has not written on a label yet. One that another device wrote meanwhile the household
 * tells apart when it hears of both (docs/offline.md). Exported for its test.
 */
export function freeCode(codes: string[], waiting: Waiting[]): string {
  const written = new Set(waiting.map(({ entry }) => ('code' in entry.what ? entry.what.code : '')));
  return codes.find((code) => code !== '' && !written.has(code)) ?? '';
}

/** How many came out, and where they are put. What they weigh, the household works out from what went in. */
export function Packing({ batch }: { batch: BatchView }) {
  const snapshot = useView<Snapshot>('/snapshot').data;
  const places = snapshot?.places ?? [];
  const code = freeCode([batch.next_code, ...(snapshot?.codes ?? [])], useWaiting());
  const [packs, setPacks] = useState(String(Math.round(batch.packs_expected)));
  const [place, setPlace] = useState(batch.store_key);
  const count = readNumber(packs) ?? 0;
  const days = dayNumber(batch.eat_by) - dayNumber(batch.household.now);
  const send = (): void => {
    const what = {
      batch: batch.id,
      parcel: newId(),
      food: batch.product_food,
      form: batch.product_form,
      pack: batch.pack,
      packs: count,
      place,
      code,
      eat_by: batch.eat_by,
      keeps_months: Math.round(days / kDaysInMonth),
    };
    // First what is beside the packs: the packs then get all the rest of the mass. The household keeps all of it or none.
    const beside = batch.also.map((one) => ({
      kind: 'packed' as const,
      what: {
        batch: batch.id,
        parcel: newId(),
        food: one.food,
        form: one.form,
        pack: '',
        packs: 0,
        mass_g: Math.round(one.kg * 1000),
        place: one.place_key,
        code: '',
      },
    }));
    void act([...beside, { kind: 'packed', what }], t.batch.packed(countWords(count), batch.pack, batch.name));
  };
  return (
    <section class="packing" aria-labelledby="packing">
      <h2 id="packing">{t.batch.packing}</h2>
      <Form onSend={send} button={t.batch.packButton} ready={count > 0 && place !== ''}>
        <NumberField label={t.batch.howMany(batch.pack)} value={packs} onChange={setPacks} />
        <Select label={t.batch.where} value={place} onChange={setPlace} options={places} />
      </Form>
      {batch.also.map((one) => (
        <p key={`${one.food} ${one.form}`}>{t.batch.also(one.name, one.amount)}</p>
      ))}
      {code !== '' && (
        <p>
          {t.batch.code} <strong class="code">{code}</strong>
        </p>
      )}
    </section>
  );
}
