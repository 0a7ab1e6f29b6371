import { useState } from 'preact/hooks';

import { act } from '../shared/act';
import type { Place } from '../shared/entries';
import { Fold, Form, NumberField, Select, TextField } from '../shared/form';
import { fromCelsius, readNumber, toCelsius, type Units } from '../shared/format';
import { t } from '../shared/texts';
import { freshKey } from './keys';

/** Usual temperature and humidity of each kind: fridge and freezer as advised by USDA (40 F, 0 F), the rest common. */
const usual: Record<string, { temp_c: number; humidity_pct: number }> = {
  counter: { temp_c: 20, humidity_pct: 55 },
  shelf: { temp_c: 18, humidity_pct: 55 },
  cool_room: { temp_c: 13, humidity_pct: 65 },
  cellar: { temp_c: 11, humidity_pct: 80 },
  porch: { temp_c: 10, humidity_pct: 70 },
  fridge: { temp_c: 4, humidity_pct: 85 },
  freezer: { temp_c: -18, humidity_pct: 50 },
};

export function Places({ places, units }: { places: Place[]; units: Units }) {
  const taken = places.map((one) => one.key);
  return (
    <section aria-labelledby="places">
      <h2 id="places">{t.settings.places}</h2>
      {places.map((place) => (
        <Fold key={place.key} title={t.settings.placeLine(place.name, fromCelsius(place.temp_c, units), units)}>
          <PlaceForm place={place} units={units} taken={taken} />
        </Fold>
      ))}
      <Fold title={t.settings.addPlace}>
        <PlaceForm
          key={places.length}
          place={{
            key: '',
            name: '',
            kind: 'shelf',
            ...(usual['shelf'] ?? { temp_c: 18, humidity_pct: 55 }),
            capacity: 0,
          }}
          units={units}
          taken={taken}
        />
      </Fold>
    </section>
  );
}

function PlaceForm({ place, units, taken }: { place: Place; units: Units; taken: string[] }) {
  const [name, setName] = useState(place.name);
  const [kind, setKind] = useState(place.kind);
  const [temp, setTemp] = useState(String(fromCelsius(place.temp_c, units)));
  const [humidity, setHumidity] = useState(String(place.humidity_pct));
  const [capacity, setCapacity] = useState(String(place.capacity));
  const degrees = Number(temp.trim().replace(',', '.').replace('−', '-'));
  const ready = name.trim() !== '' && temp.trim() !== '' && Number.isFinite(degrees);
  const pick = (next: string): void => {
    setKind(next);
    const values = usual[next];
    if (!values || place.key !== '') return;
    setTemp(String(fromCelsius(values.temp_c, units)));
    setHumidity(String(values.humidity_pct));
  };
  const save = (): void => {
    const untouched = degrees === fromCelsius(place.temp_c, units);
    const what: Place = {
      key: place.key || freshKey(name, taken),
      name: name.trim(),
      kind,
      temp_c: untouched ? place.temp_c : toCelsius(degrees, units),
      humidity_pct: readNumber(humidity) ?? place.humidity_pct,
      capacity: readNumber(capacity) ?? 0,
    };
    void act([{ kind: 'place_set', what: { place: what } }], t.settings.saved(name));
  };
  return (
    <Form onSend={save} button={t.settings.save} ready={ready}>
      <TextField label={t.settings.placeName} value={name} onChange={setName} />
      <Select
        label={t.settings.kind}
        value={kind}
        onChange={pick}
        options={Object.entries(t.settings.kinds).map(([key, words]) => ({ key, name: words }))}
      />
      <TextField label={t.settings.temperature(units === 'us' ? 'F' : 'C')} value={temp} onChange={setTemp} />
      <NumberField label={t.settings.humidity} unit="%" step={5} value={humidity} onChange={setHumidity} />
      <NumberField
        label={t.settings.capacity}
        help={t.settings.capacityHelp}
        unit={kind === 'freezer' || kind === 'fridge' ? 'L' : kind === 'shelf' ? t.settings.packsUnit : 'kg'}
        step={10}
        value={capacity}
        onChange={setCapacity}
      />
    </Form>
  );
}
