import { useState } from 'preact/hooks';

import type { CropSheet, RecipeSheet } from '../api/kitchen_book';
import '../batch/batch.css';
import { LeafletTimer } from '../process/own_timer';
import { ProcessCards } from '../process/process_answer';
import { Fold, Form, TextField } from '../shared/form';
import { Heading, Loaded, No } from '../shared/page';
import { become } from '../shared/router';
import { t } from '../shared/texts';
import { useView } from '../shared/views';
import { RecipeLinks, Syrups } from './recipes_page';
import './recipes.css';

/** One recipe scaled to what there is; or, for a crop, all that is on file for it. */
export function RecipePage({ id, query }: { id: string; query: URLSearchParams }) {
  const amount = query.get('amount') ?? '';
  const asked = amount === '' ? '' : `?amount=${encodeURIComponent(amount)}`;
  const seen = useView<RecipeSheet | CropSheet>(`/recipes/${encodeURIComponent(id)}${asked}`);
  const plain = useView<RecipeSheet | CropSheet>(
    seen.refusal && asked !== '' ? `/recipes/${encodeURIComponent(id)}` : '',
  );
  const name = seen.data?.name ?? plain.data?.name ?? t.recipes.heading;
  return (
    <>
      <Heading title={name}>
        <p>
          <a href="/recipes">{t.recipes.back}</a>
        </p>
      </Heading>
      {(seen.data?.answer === 'recipe' || plain.data?.answer === 'recipe') && (
        <Amount key={amount} id={id} amount={amount} />
      )}
      <Loaded seen={seen}>
        {(sheet) => (sheet.answer === 'crop' ? <OfCrop sheet={sheet} /> : <OneRecipe sheet={sheet} id={id} />)}
      </Loaded>
    </>
  );
}

function Amount({ id, amount }: { id: string; amount: string }) {
  const [typed, setTyped] = useState(amount);
  const show = (): void =>
    become(`/recipes/${id}${typed.trim() === '' ? '' : `?amount=${encodeURIComponent(typed.trim())}`}`);
  return (
    <div class="recipe-ask">
      <Form button={t.recipes.scale} onSend={show}>
        <TextField label={t.recipes.amount} value={typed} onChange={setTyped} />
      </Form>
      <p class="help">{t.recipes.amountHelp}</p>
    </div>
  );
}

function OneRecipe({ sheet, id }: { sheet: RecipeSheet; id: string }) {
  return (
    <div class="recipe">
      <div class="recipe-take">
        {sheet.cautions.map((line) => (
          <p key={line} class="caution">
            {line}
          </p>
        ))}
        {sheet.pectin !== '' && <p>{t.recipes.with(sheet.pectin)}</p>}
        {sheet.how !== '' && <p class="soft">{t.recipes.counted(sheet.how)}</p>}
        <h2>{sheet.pots > 1 ? t.recipes.eachPot : t.recipes.take}</h2>
        {sheet.pots_said !== '' && <p class="recipe-pots">{sheet.pots_said}</p>}
        <dl class="recipe-lines">
          {sheet.lines.map((line) => (
            <div key={line.item}>
              <dt>{line.said}</dt>
              <dd>
                {line.item}
                {line.optional && t.recipes.optional}
              </dd>
            </div>
          ))}
        </dl>
        {sheet.yield !== '' && <p>{t.recipes.makes(sheet.yield)}</p>}
        {sheet.left_over !== '' && <p>{sheet.left_over}</p>}
        <p>{sheet.bound}</p>
        {sheet.notes !== '' && <p>{sheet.notes}</p>}
        <p class="small-print">{t.recipes.from(sheet.source)}</p>
      </div>
      <div>
        <OrderOfWork sheet={sheet} />
        <HeatProcess sheet={sheet} />
        <Changes sheet={sheet} id={id} />
      </div>
    </div>
  );
}

function OrderOfWork({ sheet }: { sheet: RecipeSheet }) {
  return (
    <>
      {sheet.steps.length > 0 && (
        <>
          <h2>{t.recipes.order}</h2>
          <ol class="recipe-steps">
            {sheet.steps.map((step) => (
              <li key={step.text}>
                {step.text} <span class="small-print">{step.source}</span>
              </li>
            ))}
          </ol>
        </>
      )}
      {sheet.ferment.length > 0 && (
        <>
          <h2>{t.recipes.howLong}</h2>
          <dl class="figures">
            {sheet.ferment.map((one) => (
              <div key={one.temperature}>
                <dt>{one.temperature}</dt>
                <dd>
                  {one.days} <span class="small-print">{one.source}</span>
                </dd>
              </div>
            ))}
            {sheet.checks.map((one) => (
              <div key={one.text}>
                <dt>{one.days}</dt>
                <dd>
                  {one.text} <span class="small-print">{one.source}</span>
                </dd>
              </div>
            ))}
          </dl>
        </>
      )}
      {sheet.gel && (
        <>
          <h2>{t.recipes.done}</h2>
          <p>{sheet.gel.said}</p>
          <p>{t.recipes.sheetTest}</p>
          <p class="small-print">{sheet.gel.source}</p>
        </>
      )}
    </>
  );
}

function HeatProcess({ sheet }: { sheet: RecipeSheet }) {
  const answer = sheet.process;
  if (answer === null) return null;
  return (
    <section aria-labelledby="heat">
      <h2 id="heat">{t.process.heading}</h2>
      {answer.ok ? <ProcessCards choices={answer.choices} /> : <No no={answer} />}
      {!answer.ok && answer.code === 'makers_leaflet' && <LeafletTimer food={sheet.name} />}
    </section>
  );
}

function Changes({ sheet, id }: { sheet: RecipeSheet; id: string }) {
  const [words, setWords] = useState('');
  const [asked, setAsked] = useState('');
  const seen = useView<RecipeSheet>(asked);
  return (
    <section aria-labelledby="changes">
      <h2 id="changes">{t.recipes.changes}</h2>
      <p>{t.recipes.changesIntro}</p>
      {sheet.allowed.length > 0 && (
        <ul class="plain">
          {sheet.allowed.map((one) => (
            <li key={one.what}>
              {one.what}: {one.why}. <span class="small-print">{one.source}</span>
            </li>
          ))}
        </ul>
      )}
      <Form
        button={t.recipes.askChange}
        ready={words.trim() !== ''}
        onSend={() => setAsked(`/recipes/${encodeURIComponent(id)}?change=${encodeURIComponent(words.trim())}`)}
      >
        <TextField label={t.recipes.change} help={t.recipes.changeHelp} value={words} onChange={setWords} />
      </Form>
      {asked !== '' && (
        <div aria-live="polite">
          <Loaded seen={seen}>
            {(answer) =>
              answer.change ? <p>{t.recipes.allowed(answer.change.what, answer.change.source)}</p> : null
            }
          </Loaded>
        </div>
      )}
      <Fold title={t.recipes.notAllowed}>
        <ul class="plain">
          {sheet.not_allowed.map((one) => (
            <li key={one.what}>
              {one.what}: {one.why}. {one.instead !== '' && t.recipes.insteadWord(one.instead)}
            </li>
          ))}
        </ul>
      </Fold>
    </section>
  );
}

function OfCrop({ sheet }: { sheet: CropSheet }) {
  return (
    <>
      {sheet.recipes.length > 0 ? <RecipeLinks recipes={sheet.recipes} /> : <p>{t.recipes.noneFor(sheet.name)}</p>}
      <p>
        <a href={`/process?food=${encodeURIComponent(sheet.name)}`}>{t.recipes.processOf(sheet.name)}</a>
      </p>
      {sheet.acid_per_jar.length > 0 && (
        <>
          <h2>{t.recipes.acid}</h2>
          <Figures
            rows={sheet.acid_per_jar.map((one) => ({
              what: one.jar,
              value: one.said,
              source: one.source,
              checked: '',
            }))}
          />
        </>
      )}
      {sheet.drying.length > 0 && (
        <>
          <h2>{t.recipes.drying}</h2>
          <Figures rows={sheet.drying} />
        </>
      )}
      {sheet.freezing.length > 0 && (
        <>
          <h2>{t.recipes.freezing}</h2>
          <Figures rows={sheet.freezing} />
        </>
      )}
      {sheet.syrups.length > 0 && (
        <>
          <h2>{t.recipes.syrups}</h2>
          <Syrups syrups={sheet.syrups} />
        </>
      )}
    </>
  );
}

function Figures({ rows }: { rows: { what: string; value: string; source: string; checked: string }[] }) {
  return (
    <dl class="figures">
      {rows.map((row) => (
        <div key={row.what + row.value}>
          <dt>{row.what}</dt>
          <dd>
            {row.value}{' '}
            <span class="small-print">{row.checked === '' ? row.source : `${row.source}; ${row.checked}`}</span>
          </dd>
        </div>
      ))}
    </dl>
  );
}
