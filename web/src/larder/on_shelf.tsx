import { useState } from 'preact/hooks';

import type { Snapshot } from '../api/types';
import { act } from '../shared/act';
import { grams, newId } from '../shared/entries';
import { Fold, Form, NumberField, Select, TextField } from '../shared/form';
import { countWords, massUnit, readNumber, toKilograms, type Units } from '../shared/format';
import { t } from '../shared/texts';
import { useView } from '../shared/views';

/** Packs that were there before this book began, or were bought: taking stock. */
export function OnShelf({ units }: { units: Units }) {
  const snapshot = useView<Snapshot>('/snapshot').data;
  if (!snapshot) return null;
  return (
    <Fold title={t.larder.onShelf}>
      <OnShelfForm snapshot={snapshot} units={units} />
    </Fold>
  );
}

function OnShelfForm({ snapshot, units }: { snapshot: Snapshot; units: Units }) {
  const [food, setFood] = useState('');
  const [form, setForm] = useState('');
  const [pack, setPack] = useState<string>(t.larder.packs[0] ?? '');
  const [packs, setPacks] = useState('1');
  const [weight, setWeight] = useState(units === 'us' ? '2' : '1');
  const [place, setPlace] = useState(snapshot.places[0]?.key ?? '');
  const count = readNumber(packs) ?? 0;
  const kg = toKilograms(readNumber(weight) ?? 0, units) * count;
  const name = snapshot.crops.find((crop) => crop.key === food)?.name ?? '';
  const send = async (): Promise<void> => {
    const what = { parcel: newId(), food, form: form.trim(), pack, packs: count, mass_g: grams(kg), place, note: '' };
    if (await act([{ kind: 'put_by_before', what }], t.larder.added(countWords(count), pack, name))) setFood('');
  };
  return (
    <Form onSend={() => void send()} button={t.larder.add} ready={food !== '' && kg > 0 && place !== ''}>
      <Select
        label={t.larder.food}
        value={food}
        none={t.larder.chooseFood}
        onChange={setFood}
        options={snapshot.crops}
      />
      <TextField label={t.larder.form} help={t.larder.formHelp} value={form} onChange={setForm} />
      <Select
        label={t.larder.pack}
        value={pack}
        onChange={setPack}
        options={t.larder.packs.map((one) => ({ key: one, name: one }))}
      />
      <NumberField label={t.larder.howMany} value={packs} onChange={setPacks} />
      <NumberField
        label={t.larder.eachWeighs}
        unit={massUnit(units)}
        step={0.5}
        value={weight}
        onChange={setWeight}
      />
      <Select label={t.larder.place} value={place} onChange={setPlace} options={snapshot.places} />
    </Form>
  );
}
