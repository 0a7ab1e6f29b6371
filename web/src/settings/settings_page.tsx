import { useState } from 'preact/hooks';

import type { SettingsView, Snapshot } from '../api/types';
import { act } from '../shared/act';
import { bellSilenced, silenceBell } from '../shared/bell';
import { Check, Choice, Fold, Form, NumberField, Select, TextField } from '../shared/form';
import { feetToMetres, metresToFeet, readNumber, type Units } from '../shared/format';
import { Heading, Loaded } from '../shared/page';
import { t } from '../shared/texts';
import { useView } from '../shared/views';
import { speaker, speakAs } from '../shared/who';
import { Counts } from './counts';
import { Learned } from './learned';
import { People } from './people';
import { Places } from './places';
import './settings.css';

export function SettingsPage() {
  const seen = useView<SettingsView>('/settings');
  const snapshot = useView<Snapshot>('/snapshot').data;
  return (
    <>
      <Heading title={t.nav.settings} />
      <Loaded seen={seen}>
        {(view) => {
          const units: Units = view.values['units'] === 'metric' ? 'metric' : 'us';
          return (
            <div class="settings">
              <Household view={view} units={units} />
              <People people={view.people} />
              <Places places={view.places} units={units} />
              <Counts
                heading={t.settings.equipment}
                known={t.settings.equipmentWords}
                have={new Map(view.equipment.map((one) => [one.key, one.count]))}
                draft={(key, count) => ({ kind: 'equipment_set', what: { key, count } })}
              />
              <Counts
                heading={t.settings.stock}
                known={t.settings.stockWords}
                have={new Map(view.stock.map((one) => [one.item, one.amount]))}
                draft={(item, amount) => ({ kind: 'stock_set', what: { item, amount } })}
              />
              <Learned />
              <ThisDevice snapshot={snapshot} />
            </div>
          );
        }}
      </Loaded>
    </>
  );
}

function Household({ view, units: before }: { view: SettingsView; units: Units }) {
  const [name, setName] = useState(view.values['name'] ?? '');
  const [units, setUnits] = useState<Units>(before);
  const [zone, setZone] = useState(view.values['zone'] ?? '');
  const feet = readNumber(view.values['altitude_ft'] ?? '');
  const shown = feet === null ? '' : String(Math.round(before === 'us' ? feet : feetToMetres(feet)));
  const [altitude, setAltitude] = useState(shown);
  const save = (): void => {
    const values: Record<string, string> = { name, units, zone };
    const typed = readNumber(altitude);
    // An altitude that was not touched keeps the figure it had, to the foot.
    if (typed !== null && (altitude !== shown || units !== before)) {
      values['altitude_ft'] = (units === 'us' ? typed : metresToFeet(typed)).toFixed(1);
    }
    void act([{ kind: 'settings_changed', what: { values } }], t.settings.saved(t.settings.household));
  };
  return (
    <section aria-labelledby="household">
      <h2 id="household">{t.settings.household}</h2>
      <Form onSend={save} button={t.settings.save}>
        <TextField label={t.settings.name} value={name} onChange={setName} />
        <NumberField
          label={t.settings.altitude}
          help={t.settings.altitudeHelp}
          unit={units === 'us' ? 'ft' : 'm'}
          step={50}
          value={altitude}
          onChange={setAltitude}
        />
        <Choice
          label={t.settings.units}
          value={units}
          onChange={(value) => setUnits(value === 'metric' ? 'metric' : 'us')}
          options={[
            { key: 'us', name: t.settings.us },
            { key: 'metric', name: t.settings.metric },
          ]}
        />
        <TextField label={t.settings.zone} help={t.settings.zoneHelp} value={zone} onChange={setZone} />
      </Form>
    </section>
  );
}

/** What is kept on this device only: who speaks through it, and its bell. */
function ThisDevice({ snapshot }: { snapshot: Snapshot | null }) {
  const [who, setWho] = useState(speaker());
  const [silenced, setSilenced] = useState(bellSilenced());
  const people = (snapshot?.people ?? []).map((name, i) => ({ key: snapshot?.people_keys[i] ?? name, name }));
  return (
    <section aria-labelledby="device">
      <h2 id="device">{t.settings.device}</h2>
      <Select
        label={t.settings.who}
        help={t.settings.whoHelp}
        value={who}
        none={t.settings.nobody}
        options={people}
        onChange={(key) => {
          speakAs(key);
          setWho(key);
        }}
      />
      <Check
        label={t.settings.bell}
        checked={!silenced}
        onChange={(on) => {
          silenceBell(!on);
          setSilenced(!on);
        }}
      />
      <p>
        <a href="/devices">{t.devices.title}</a>
      </p>
      <Fold title={t.settings.about}>
        <p>{t.settings.aboutWords}</p>
        <p>{t.settings.fontWords}</p>
      </Fold>
    </section>
  );
}
