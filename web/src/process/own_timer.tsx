import { useState } from 'preact/hooks';

import { act } from '../shared/act';
import { householdNow } from '../shared/clock';
import { instant, newId } from '../shared/entries';
import { Form, NumberField } from '../shared/form';
import { lengthWords, readNumber } from '../shared/format';
import { t } from '../shared/texts';

/** A timer for the leaflet's time: the person's own, never a heat process. */
export function LeafletTimer({ food }: { food: string }) {
  const [minutes, setMinutes] = useState('');
  const read = readNumber(minutes);
  const set = (): void => {
    if (read === null || read <= 0) return;
    const name = t.process.leafletTimer(food);
    const due = instant(householdNow() + read * 60_000);
    void act(
      [{ kind: 'timer_set', what: { timer: newId(), name, due, note: t.process.leafletNote } }],
      t.timers.set(name, lengthWords(read)),
    );
  };
  return (
    <section aria-labelledby="leaflet">
      <h2 id="leaflet">{t.process.leaflet}</h2>
      <p>{t.process.leafletWords}</p>
      <Form onSend={set} button={t.process.leafletButton} ready={read !== null && read > 0}>
        <NumberField label={t.process.leafletMinutes} unit="min" step={1} value={minutes} onChange={setMinutes} />
      </Form>
    </section>
  );
}
