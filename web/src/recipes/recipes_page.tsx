import { useState } from 'preact/hooks';

import type { BrineSheet, ListedRecipe, RecipeList, SyrupLine } from '../api/kitchen_book';
import type { DayView, StripView } from '../api/types';
import { Fold, Form, NumberField, TextField } from '../shared/form';
import { fromKilograms, massUnit, readNumber } from '../shared/format';
import { Heading, Loaded } from '../shared/page';
import { t } from '../shared/texts';
import { useDay, useView } from '../shared/views';
import './recipes.css';

const root = (crop: string): string => crop.split('/')[0] ?? crop;
const isOf = (recipe: ListedRecipe, crop: string): boolean =>
  recipe.crop_keys.some((key) => key === crop || key === root(crop) || root(key) === crop);

/** Tested recipes: first for what waits in the house, then all of them. */
export function RecipesPage() {
  const list = useView<RecipeList>('/recipes');
  const day = useDay().data;
  const [find, setFind] = useState('');
  return (
    <>
      <Heading title={t.recipes.heading}>
        <p class="soft">{t.recipes.intro}</p>
        <p>
          <a href="/process">{t.recipes.toProcess}</a>
        </p>
      </Heading>
      <Loaded seen={list}>
        {(data) => (
          <>
            <TextField type="search" label={t.recipes.find} value={find} onChange={setFind} />
            {find.trim() === '' && day && <ForWhatWaits day={day} recipes={data.recipes} />}
            <All recipes={data.recipes} find={find.trim().toLowerCase()} />
            <h2>{t.recipes.beside}</h2>
            <Fold title={t.recipes.syrups}>
              <Syrups syrups={data.syrups} />
            </Fold>
            <Fold title={t.recipes.brine}>
              <Brine />
            </Fold>
          </>
        )}
      </Loaded>
    </>
  );
}

/** A lot as an amount to scale by: "12.5 lb". */
const amountOf = (strip: StripView, day: DayView): string =>
  `${fromKilograms(strip.mass_kg, day.household.units)} ${massUnit(day.household.units)}`;

function ForWhatWaits({ day, recipes }: { day: DayView; recipes: ListedRecipe[] }) {
  const lots = day.strips.filter((strip) => !strip.standing && recipes.some((one) => isOf(one, strip.crop)));
  if (lots.length === 0) return null;
  return (
    <section>
      <h2>{t.recipes.waiting}</h2>
      {lots.map((lot) => (
        <Fold key={lot.lot} title={t.recipes.lot(lot.name, lot.amount)}>
          <ul class="recipe-links">
            {recipes
              .filter((one) => isOf(one, lot.crop))
              .map((one) => (
                <li key={one.key}>
                  <a
                    href={`/recipes/${one.key}${one.by_weight ? `?amount=${encodeURIComponent(amountOf(lot, day))}` : ''}`}
                  >
                    {one.name}
                  </a>
                </li>
              ))}
            <li>
              <a href={`/recipes/${root(lot.crop)}`}>{t.recipes.allOf(lot.name)}</a>
            </li>
          </ul>
        </Fold>
      ))}
    </section>
  );
}

function All({ recipes, find }: { recipes: ListedRecipe[]; find: string }) {
  const found = recipes.filter(
    (one) => find === '' || `${one.name} ${one.crops.join(' ')}`.toLowerCase().includes(find),
  );
  const kinds = [...new Set(found.map((one) => one.kind))];
  if (found.length === 0) return <p>{t.recipes.none(find)}</p>;
  return (
    <section>
      <h2>{find === '' ? t.recipes.all : t.recipes.found(found.length)}</h2>
      {kinds.map((kind) => (
        <Fold key={`${kind}${find === '' ? '' : find}`} title={t.recipes.kinds[kind] ?? kind} open={find !== ''}>
          <RecipeLinks recipes={found.filter((one) => one.kind === kind)} />
        </Fold>
      ))}
    </section>
  );
}

export function RecipeLinks({ recipes }: { recipes: ListedRecipe[] }) {
  return (
    <ul class="recipe-links">
      {recipes.map((one) => (
        <li key={one.key}>
          <a href={`/recipes/${one.key}`}>{one.name}</a>
        </li>
      ))}
    </ul>
  );
}

export function Syrups({ syrups }: { syrups: SyrupLine[] }) {
  return (
    <dl class="figures">
      {syrups.map((one) => (
        <div key={`${one.strength}${one.makes_for}`}>
          <dt>{t.recipes.syrup(one.strength, one.sugar_pct, one.makes_for)}</dt>
          <dd>
            {one.said} <span class="small-print">{one.source}</span>
          </dd>
        </div>
      ))}
    </dl>
  );
}

function Brine() {
  const [percent, setPercent] = useState('5');
  const [water, setWater] = useState('2 qt');
  const read = readNumber(percent) ?? 0;
  const [asked, setAsked] = useState('');
  const seen = useView<BrineSheet>(asked);
  return (
    <>
      <Form
        button={t.recipes.brineButton}
        ready={read > 0 && water.trim() !== ''}
        onSend={() => setAsked(`/recipes?brine=${read}&amount=${encodeURIComponent(water.trim())}`)}
      >
        <NumberField label={t.recipes.brineStrength} unit="%" value={percent} onChange={setPercent} />
        <TextField label={t.recipes.brineWater} value={water} onChange={setWater} />
      </Form>
      {asked !== '' && (
        <div aria-live="polite">
          <Loaded seen={seen}>
            {(brine) => (
              <>
                <p class="recipe-amount">{brine.said}</p>
                <p>
                  {brine.basis}; {brine.salometer}.
                </p>
                <p class="small-print">{brine.source}</p>
              </>
            )}
          </Loaded>
        </div>
      )}
    </>
  );
}
