import { useState } from 'preact/hooks';

import type { LotView, Snapshot } from '../api/types';
import { act } from '../shared/act';
import { grams, newId, type Draft } from '../shared/entries';
import { Check, Choice, Fold, Form, NumberField, Select } from '../shared/form';
import { fromKilograms, massUnit, massWords, readNumber, toKilograms, type Units } from '../shared/format';
import { go } from '../shared/router';
import { t } from '../shared/texts';
import { useView } from '../shared/views';
import { SortForm } from './sort';

/** What can be done with a lot short of a batch: look again, sort, move, eat, give, throw away. */
export function Doing({ lot, open }: { lot: LotView; open: string }) {
  const snapshot = useView<Snapshot>('/snapshot').data;
  if (!snapshot) return null;
  const units = snapshot.household.units;
  if (lot.strip.standing && lot.strip.form === 'carcass') {
    return (
      <p>
        <a href="/butchering">{t.lot.butcher}</a>
      </p>
    );
  }
  if (lot.strip.standing) return <PickForm lot={lot} snapshot={snapshot} open={open === 'pick'} />;
  return (
    <section class="doing" aria-labelledby="doing">
      <h2 id="doing">{t.lot.doing}</h2>
      <Fold title={t.lot.look}>
        <LookForm lot={lot} conditions={snapshot.conditions} />
      </Fold>
      <Fold title={t.lot.move}>
        <MoveForm lot={lot} snapshot={snapshot} />
      </Fold>
      <Fold title={t.lot.sort}>
        <SortForm lot={lot} snapshot={snapshot} />
      </Fold>
      <Fold title={t.lot.leave} open={open === 'give'}>
        <LeaveForm lot={lot} units={units} first={open === 'give' ? 'given_away' : 'eaten_fresh'} />
      </Fold>
    </section>
  );
}

function LookForm({ lot, conditions }: { lot: LotView; conditions: string[] }) {
  const [condition, setCondition] = useState(lot.strip.condition);
  const send = (): void => {
    const draft: Draft = { kind: 'observed', what: { parcel: lot.strip.lot, condition, facts: [] } };
    void act([draft], t.lot.looked(lot.strip.name, condition));
  };
  return (
    <Form onSend={send} button={t.lot.lookButton}>
      <Choice
        label={t.lot.lookLabel}
        value={condition}
        onChange={setCondition}
        options={conditions.map((word) => ({ key: word, name: word }))}
      />
    </Form>
  );
}

function MoveForm({ lot, snapshot }: { lot: LotView; snapshot: Snapshot }) {
  const [place, setPlace] = useState('');
  const name = snapshot.places.find((one) => one.key === place)?.name ?? place;
  const send = (): void =>
    void act([{ kind: 'moved', what: { parcel: lot.strip.lot, place } }], t.lot.moved(lot.strip.name, name));
  return (
    <Form onSend={send} button={t.lot.moveButton} ready={place !== ''}>
      <Choice
        label={t.lot.moveLabel}
        value={place}
        onChange={setPlace}
        options={snapshot.places.filter((one) => one.key !== lot.strip.place_key)}
      />
      {lot.best_place !== '' && <p class="help">{t.lot.best(lot.best_place)}</p>}
    </Form>
  );
}

type Leaving = 'eaten_fresh' | 'given_away' | 'fed_to_stock' | 'thrown_away';

function LeaveForm({ lot, units, first }: { lot: LotView; units: Units; first: Leaving }) {
  const all = fromKilograms(lot.strip.mass_kg, units);
  const [how, setHow] = useState<Leaving>(first);
  const [amount, setAmount] = useState(String(all));
  const kg = toKilograms(readNumber(amount) ?? 0, units);
  const send = async (): Promise<void> => {
    const taken = Math.abs((readNumber(amount) ?? 0) - all) < 0.011 ? lot.strip.mass_kg : kg;
    const words = t.lot.left_as[how](massWords(taken, units), lot.strip.name);
    const done = await act([leaving(how, lot.strip.lot, taken)], words);
    if (done && taken === lot.strip.mass_kg) go('/');
  };
  return (
    <Form onSend={() => void send()} button={t.lot.leaveButton} ready={kg > 0}>
      <Choice
        label={t.lot.leaveLabel}
        value={how}
        onChange={(value) => setHow(value as Leaving)}
        options={(['eaten_fresh', 'given_away', 'fed_to_stock', 'thrown_away'] as const).map((key) => ({
          key,
          name: t.lot.leaveWays[key],
        }))}
      />
      <NumberField label={t.lot.amount} unit={massUnit(units)} value={amount} onChange={setAmount} />
    </Form>
  );
}

function leaving(how: Leaving, parcel: string, kg: number): Draft {
  const mass_g = grams(kg);
  if (how === 'given_away') return { kind: how, what: { parcel, mass_g, to: '' } };
  if (how === 'thrown_away') return { kind: how, what: { parcel, mass_g, why: '' } };
  return { kind: how, what: { parcel, mass_g } };
}

function PickForm({ lot, snapshot, open }: { lot: LotView; snapshot: Snapshot; open: boolean }) {
  const { units } = snapshot.household;
  const [amount, setAmount] = useState(String(fromKilograms(lot.strip.mass_kg, units)));
  const [condition, setCondition] = useState('firm');
  const [place, setPlace] = useState(snapshot.places[0]?.key ?? '');
  const [more, setMore] = useState(false);
  const mass = toKilograms(readNumber(amount) ?? 0, units);
  const send = async (): Promise<void> => {
    const parcel = newId();
    const what = { key: lot.strip.lot, parcel, mass_g: grams(mass), condition, place, more_to_come: more };
    if (await act([{ kind: 'standing_picked', what }], t.lot.picked(massWords(mass, units), lot.strip.name))) go('/');
  };
  return (
    <section class="doing">
      <Fold title={t.lot.pick} open={open}>
        <Form onSend={() => void send()} button={t.lot.pickButton} ready={mass > 0 && place !== ''}>
          <NumberField label={t.lot.amount} unit={massUnit(units)} value={amount} onChange={setAmount} />
          <Choice
            label={t.bringIn.condition}
            value={condition}
            onChange={setCondition}
            options={snapshot.conditions.map((word) => ({ key: word, name: word }))}
          />
          <Select label={t.bringIn.place} value={place} onChange={setPlace} options={snapshot.places} />
          <Check label={t.lot.more} checked={more} onChange={setMore} />
        </Form>
      </Fold>
    </section>
  );
}
