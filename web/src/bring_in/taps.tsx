import { useState } from 'preact/hooks';

import type { BringInDraft, CropChoice, Snapshot } from '../api/types';
import { Choice, Fold, Form, NumberField, TextField } from '../shared/form';
import { fromKilograms, massUnit, massWords, readNumber, toKilograms } from '../shared/format';
import { t } from '../shared/texts';
import { keepDraft } from './confirm';
import { containerWords, draftOf, guessLine, type Guess } from './read_line';

const kShown = 24;
const kByWeight = 'weight';

interface Props {
  snapshot: Snapshot;
  start: Guess;
  onDraft: (draft: BringInDraft) => void;
  /** After the third tap has brought it in. */
  onKept: () => void;
}

/**
 * Crop, basket with how full it is, condition: a tap each, and the last one brings it in. The place is guessed and
 * stands beside it. Whoever needs other amounts, or came from a line that was read in part, fills the form.
 */
export function Taps({ snapshot, start, onDraft, onKept }: Props) {
  const [guess, setGuess] = useState(start);
  const [inFull, setInFull] = useState(start.crop !== null);
  const { crop } = guess;
  const other = (): void => {
    setInFull(false);
    setGuess({ ...guess, crop: null, container: '', kg: 0, condition: '' });
  };
  if (!crop) {
    return (
      <CropTap
        snapshot={snapshot}
        onCrop={(one) => {
          setInFull(one.containers.length === 0);
          setGuess({ ...guess, ...usual(one, snapshot), crop: one });
        }}
      />
    );
  }
  if (inFull) {
    return <AmountAndPlace snapshot={snapshot} guess={guess} crop={crop} onDraft={onDraft} onOther={other} />;
  }
  return (
    <>
      <p class="picked-crop">
        <strong>{crop.name}</strong>{' '}
        <button type="button" class="quiet" onClick={other}>
          {t.bringIn.other}
        </button>
      </p>
      {crop.foraged && <p class="caution">{t.bringIn.foraged}</p>}
      {guess.kg === 0 ? (
        <BasketTap crop={crop} snapshot={snapshot} onBasket={(basket) => setGuess({ ...guess, ...basket })} />
      ) : (
        <ConditionTap guess={guess} snapshot={snapshot} onDraft={onDraft} onKept={onKept} />
      )}
      <button type="button" class="quiet" onClick={() => setInFull(true)}>
        {t.bringIn.another}
      </button>
    </>
  );
}

/** Container and place as they were the last time; else the first place of the kinds where fresh food waits. */
function usual(crop: CropChoice, snapshot: Snapshot): { container: string; place: string } {
  const last = snapshot.recent?.find((one) => one.crop === crop.key);
  const said = last ? guessLine(`${last.as_said} ${crop.name}`, snapshot).container : '';
  const there = snapshot.places.some((place) => place.key === last?.place);
  const kinds = ['cool_room', 'cellar', 'counter', 'porch', 'fridge'];
  const byKind = kinds.map((kind) => snapshot.places.find((place) => place.kind === kind)).find((place) => place);
  return {
    container: crop.containers.includes(said) ? said : (crop.containers[0] ?? ''),
    place: there ? (last?.place ?? '') : (byKind?.key ?? snapshot.places[0]?.key ?? ''),
  };
}

/** Shares of a container by eye; heaped counts as a quarter more (common practice). */
const fullness = { quarter: 0.25, half: 0.5, three: 0.75, full: 1, heaped: 1.25 } as const;
type Fullness = keyof typeof fullness;

function BasketTap(props: { crop: CropChoice; snapshot: Snapshot; onBasket: (basket: Basket) => void }) {
  const { crop, snapshot, onBasket } = props;
  const { units } = snapshot.household;
  const [container, setContainer] = useState(usual(crop, snapshot).container);
  const [baskets, setBaskets] = useState('1');
  const count = Math.max(1, Math.round(readNumber(baskets) ?? 1));
  const each = crop.container_kg[crop.containers.indexOf(container)] ?? 0;
  const name = containerWords(container);
  return (
    <section aria-labelledby="how-full">
      <h2 id="how-full">{t.bringIn.howFull}</h2>
      <ul class="big-taps">
        {(Object.keys(fullness) as Fullness[]).map((share) => (
          <li key={share}>
            <button
              type="button"
              onClick={() =>
                onBasket({
                  container,
                  count: count * fullness[share],
                  kg: count * fullness[share] * each,
                  said:
                    count === 1
                      ? t.bringIn.fullSaid(share, name)
                      : t.bringIn.fullEach(count, name, t.bringIn.fullness[share]),
                })
              }
            >
              {name}, {t.bringIn.fullness[share]}{' '}
              <span class="soft">{massWords(count * fullness[share] * each, units)}</span>
            </button>
          </li>
        ))}
      </ul>
      {crop.containers.length > 1 && (
        <Choice
          label={t.bringIn.otherContainer}
          value={container}
          onChange={setContainer}
          options={crop.containers.map((key) => ({ key, name: containerWords(key) }))}
        />
      )}
      <NumberField label={t.bringIn.baskets} value={baskets} onChange={setBaskets} />
    </section>
  );
}

type Basket = Pick<Guess, 'container' | 'count' | 'kg'> & { said: string };

function ConditionTap(props: Omit<Props, 'start'> & { guess: Guess }) {
  const { guess, snapshot, onDraft, onKept } = props;
  const [place, setPlace] = useState(guess.place);
  const [busy, setBusy] = useState(false);
  const [last, setLast] = useState(snapshot.recent?.find((one) => one.crop === guess.crop?.key)?.condition ?? '');
  const name = snapshot.places.find((one) => one.key === place)?.name ?? '';
  const keep = async (condition: string): Promise<void> => {
    const draft = draftOf({ ...guess, condition, place }, snapshot);
    if (!draft) return;
    setBusy(true);
    if (await keepDraft(draft, [])) onKept();
    setBusy(false);
  };
  return (
    <section aria-labelledby="condition">
      <h2 id="condition">{t.bringIn.conditionKeeps}</h2>
      <p>{t.bringIn.goesTo(name)}</p>
      <ul class="big-taps">
        {snapshot.conditions.map((condition) => (
          <li key={condition}>
            <button type="button" disabled={busy} onClick={() => void keep(condition)}>
              {condition}
            </button>
          </li>
        ))}
      </ul>
      <Fold title={t.bringIn.otherPlace}>
        <Choice label={t.bringIn.place} value={place} onChange={setPlace} options={snapshot.places} />
      </Fold>
      <Fold title={t.bringIn.lookFirst}>
        <Choice
          label={t.bringIn.condition}
          value={last}
          onChange={setLast}
          options={snapshot.conditions.map((word) => ({ key: word, name: word }))}
        />
        <button
          type="button"
          class="plain-button"
          disabled={last === ''}
          onClick={() => {
            const draft = draftOf({ ...guess, condition: last, place }, snapshot);
            if (draft) onDraft(draft);
          }}
        >
          {t.bringIn.look}
        </button>
      </Fold>
    </section>
  );
}

function CropTap({ snapshot, onCrop }: { snapshot: Snapshot; onCrop: (crop: CropChoice) => void }) {
  const [typed, setTyped] = useState('');
  const wanted = typed.trim().toLowerCase();
  const recent = (snapshot.recent ?? [])
    .map((one) => snapshot.crops.find((crop) => crop.key === one.crop))
    .filter((crop) => crop !== undefined);
  const fitting = snapshot.crops.filter((crop) => crop.name.toLowerCase().includes(wanted));
  return (
    <section aria-labelledby="which">
      <h2 id="which">{t.bringIn.which}</h2>
      {recent.length > 0 && wanted === '' && (
        <>
          <h3 id="recent">{t.bringIn.recent}</h3>
          <ul class="big-taps" aria-labelledby="recent">
            {recent.map((crop) => (
              <li key={crop.key}>
                <button type="button" onClick={() => onCrop(crop)}>
                  {crop.name}
                </button>
              </li>
            ))}
          </ul>
          <h3>{t.bringIn.all}</h3>
        </>
      )}
      <TextField label={t.bringIn.find} type="search" enterKey="search" value={typed} onChange={setTyped} />
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
  const full: Guess = {
    ...guess,
    said: '',
    crop,
    count,
    container: unit === kByWeight ? '' : unit,
    kg: count * each,
  };
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

interface AmountProps extends Omit<Props, 'start' | 'onKept'> {
  guess: Guess;
  crop: CropChoice;
  onOther: () => void;
}
