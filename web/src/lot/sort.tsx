import { useState } from 'preact/hooks';

import type { LotView, Snapshot } from '../api/types';
import { act } from '../shared/act';
import { grams, newId } from '../shared/entries';
import { Form, NumberField, Select } from '../shared/form';
import { fromKilograms, massUnit, massWords, readNumber, toKilograms } from '../shared/format';
import { go } from '../shared/router';
import { t } from '../shared/texts';

interface Part {
  condition: string;
  amount: string;
  place: string;
}

/** A basket sorted into what is firm, ripe, soft: amounts by condition, each to its place, and what was past use. */
export function SortForm({ lot, snapshot }: { lot: LotView; snapshot: Snapshot }) {
  const { units } = snapshot.household;
  const { strip } = lot;
  const [parts, setParts] = useState<Part[]>(
    snapshot.conditions.map((condition) => ({ condition, amount: '', place: strip.place_key })),
  );
  const [discarded, setDiscarded] = useState('');
  const change = (i: number, by: Partial<Part>): void =>
    setParts(parts.map((part, j) => (i === j ? { ...part, ...by } : part)));

  const kg = (text: string): number => toKilograms(readNumber(text) ?? 0, units);
  const filled = parts.filter((part) => kg(part.amount) > 0);
  const sum = filled.reduce((total, part) => total + kg(part.amount), 0) + kg(discarded);
  const left = strip.mass_kg - sum;
  // Weights by eye never add up to the gram: within a twentieth the parts are taken as the whole.
  const whole = Math.abs(left) <= 0.05 * strip.mass_kg;
  const send = async (): Promise<void> => {
    const scale = whole && sum > 0 ? strip.mass_kg / sum : 1;
    const made = filled.map((part) => ({
      parcel: newId(),
      mass_g: grams(kg(part.amount) * scale),
      condition: part.condition,
      place: part.place,
    }));
    const what = { parcel: strip.lot, parts: made, discarded_g: grams(kg(discarded) * scale) };
    if (await act([{ kind: 'sorted', what }], t.lot.sorted(strip.name))) go('/');
  };
  return (
    <Form onSend={() => void send()} button={t.lot.sortButton} ready={filled.length > 0 && whole}>
      <p class="help">{t.lot.sortHelp(massWords(strip.mass_kg, units))}</p>
      {parts.map((part, i) => (
        <div class="sort-part" key={part.condition}>
          <NumberField
            label={part.condition}
            unit={massUnit(units)}
            value={part.amount}
            onChange={(amount) => change(i, { amount })}
          />
          {kg(part.amount) > 0 && (
            <Select
              label={t.lot.sortPlace(part.condition)}
              value={part.place}
              onChange={(place) => change(i, { place })}
              options={snapshot.places}
            />
          )}
        </div>
      ))}
      <NumberField label={t.lot.discarded} unit={massUnit(units)} value={discarded} onChange={setDiscarded} />
      <p aria-live="polite">{whole ? t.lot.sortFits : t.lot.sortLeft(fromKilograms(left, units), massUnit(units))}</p>
    </Form>
  );
}
