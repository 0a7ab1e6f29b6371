import { useState } from 'preact/hooks';

import type { BringInDraft, CropChoice, Snapshot } from '../api/types';
import { Choice, Form, NumberField, TextField } from '../shared/form';
import { fromKilograms, massUnit, massWords, readNumber, toKilograms } from '../shared/format';
import { t } from '../shared/texts';
import { containerWords, draftOf, type Guess } from './read_line';

const kShown = 24;
const kByWeight = 'weight';

interface Props {
  snapshot: Snapshot;
  start: Guess;
  onDraft: (draft: BringInDraft) => void;
}

/** Crop, amount, condition and place: a tap each. */
export function Taps({ snapshot, start, onDraft }: Props) {
  const [guess, setGuess] = useState(start);
  if (!guess.crop) return <CropTap snapshot={snapshot} onCrop={(crop) => setGuess({ ...guess, crop })} />;
  return (
    <AmountAndPlace
      snapshot={snapshot}
      guess={guess}
      crop={guess.crop}
      onDraft={onDraft}
      onOther={() => setGuess({ ...guess, crop: null, container: '', kg: 0 })}
    />
  );
}

function CropTap({ snapshot, onCrop }: { snapshot: Snapshot; onCrop: (crop: CropChoice) => void }) {
  const [typed, setTyped] = useState('');
  const wanted = typed.trim().toLowerCase();
  const fitting = snapshot.crops.filter((crop) => crop.name.toLowerCase().includes(wanted));
  return (
    <section aria-labelledby="which">
      <h2 id="which">{t.bringIn.which}</h2>
      <TextField label={t.bringIn.find} type="search" value={typed} onChange={setTyped} />
      <ul class="crops" aria-live="polite">
        {fitting.slice(0, kShown).map((crop) => (
          <li key={crop.key}>
            <button type="button" onClick={() => onCrop(crop)}>
              {crop.name}
            </button>
          </li>
        ))}
      </ul>
      {fitting.length > kShown && <p class="soft">{t.bringIn.moreCrops(fitting.length - kShown)}</p>}
      {fitting.length === 0 && <p>{t.bringIn.noCrop(typed)}</p>}
    </section>
  );
}

function AmountAndPlace(props: AmountProps) {
  const { snapshot, crop, onDraft, onOther } = props;
  const { units } = snapshot.household;
  const [guess, setGuess] = useState(props.guess);
  const weighed = guess.kg > 0 && guess.container === '';
  const [unit, setUnit] = useState(weighed ? kByWeight : guess.container || (crop.containers[0] ?? kByWeight));
  const [amount, setAmount] = useState(String(weighed ? fromKilograms(guess.kg, units) : guess.count || 1));

  const count = readNumber(amount) ?? 0;
  const each = unit === kByWeight ? toKilograms(1, units) : (crop.container_kg[crop.containers.indexOf(unit)] ?? 0);
  const full: Guess = { ...guess, crop, count, container: unit === kByWeight ? '' : unit, kg: count * each };
  const draft = draftOf(full, snapshot);
  return (
    <Form onSend={() => draft && onDraft(draft)} button={t.bringIn.look} ready={draft !== null}>
      <p class="picked-crop">
        <strong>{crop.name}</strong>{' '}
        <button type="button" class="quiet" onClick={onOther}>
          {t.bringIn.other}
        </button>
      </p>
      <Choice
        label={t.bringIn.measured}
        value={unit}
        onChange={setUnit}
        options={[
          ...crop.containers.map((key) => ({ key, name: containerWords(key) })),
          { key: kByWeight, name: t.bringIn.byWeight(massUnit(units)) },
        ]}
      />
      <NumberField
        label={t.bringIn.howMany}
        unit={unit === kByWeight ? massUnit(units) : containerWords(unit)}
        step={unit === kByWeight ? 1 : 0.5}
        value={amount}
        onChange={setAmount}
        help={unit === kByWeight || count === 0 ? '' : t.bringIn.about(massWords(count * each, units))}
      />
      <Choice
        label={t.bringIn.condition}
        value={guess.condition}
        onChange={(condition) => setGuess({ ...guess, condition })}
        options={snapshot.conditions.map((word) => ({ key: word, name: word }))}
      />
      <Choice
        label={t.bringIn.place}
        value={guess.place}
        onChange={(place) => setGuess({ ...guess, place })}
        options={snapshot.places}
      />
    </Form>
  );
}

interface AmountProps extends Omit<Props, 'start'> {
  guess: Guess;
  crop: CropChoice;
  onOther: () => void;
}
