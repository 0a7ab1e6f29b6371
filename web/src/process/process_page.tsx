import { useState } from 'preact/hooks';

import type { ProcessAnswer } from '../api/kitchen_book';
import '../batch/batch.css';
import { Choice, Fold, Form, TextField } from '../shared/form';
import { Heading, Loaded } from '../shared/page';
import { become } from '../shared/router';
import { t } from '../shared/texts';
import { useDay, useView } from '../shared/views';
import { LeafletTimer } from './own_timer';
import { ProcessCards } from './process_answer';

const asked = ['food', 'form', 'pack', 'jar', 'canner', 'id'] as const;
type Asked = Record<(typeof asked)[number], string>;

function address(words: Asked): string {
  const query = new URLSearchParams();
  for (const name of asked) if (words[name] !== '') query.set(name, words[name]);
  return query.toString();
}

/** Which published heat process, in which jar, by which canner, at this household's altitude: or why there is none. */
export function ProcessPage({ query }: { query: URLSearchParams }) {
  const words = Object.fromEntries(asked.map((name) => [name, query.get(name) ?? ''])) as Asked;
  const day = useDay().data;
  const feet = day?.household.altitude_ft ?? null;
  const known = day !== null;
  return (
    <>
      <Heading title={t.process.pageHeading}>
        <p class="soft">
          {feet !== null
            ? t.process.atAltitude(Math.round(feet).toLocaleString('en-US'))
            : known && t.process.noAltitude}{' '}
          {known && <a href="/settings">{t.process.changeAltitude}</a>}
        </p>
      </Heading>
      <AskForm key={address(words)} words={words} />
      {words.food !== '' && <Answer key={`answer ${address(words)}`} words={words} />}
    </>
  );
}

function AskForm({ words }: { words: Asked }) {
  const [now, setNow] = useState(words);
  const set = (name: keyof Asked) => (value: string) => setNow({ ...now, [name]: value, id: '' });
  const options = (of: Record<string, string>) => Object.entries(of).map(([key, name]) => ({ key, name }));
  return (
    <div class="ask">
      <Form
        button={t.process.lookUp}
        ready={now.food.trim() !== ''}
        onSend={() => become(`/process?${address({ ...now, food: now.food.trim(), form: now.form.trim() })}`)}
      >
        <TextField label={t.process.food} help={t.process.foodHelp} value={now.food} onChange={set('food')} />
        <TextField label={t.process.form} help={t.process.formHelp} value={now.form} onChange={set('form')} />
        <Fold title={t.process.narrow} open={now.pack + now.jar + now.canner !== ''}>
          <Choice label={t.process.pack} options={options(t.process.packs)} value={now.pack} onChange={set('pack')} />
          <Choice label={t.process.jar} options={options(t.process.jars)} value={now.jar} onChange={set('jar')} />
          <Choice
            label={t.process.canner}
            options={options(t.process.canners)}
            value={now.canner}
            onChange={set('canner')}
          />
        </Fold>
      </Form>
    </div>
  );
}

function Answer({ words }: { words: Asked }) {
  const seen = useView<ProcessAnswer>(`/process?${address(words)}`);
  return (
    <section aria-live="polite" aria-labelledby="answer">
      <h2 id="answer">{t.process.answer}</h2>
      <Loaded seen={seen}>{(answer) => answer.ok && <ProcessCards choices={answer.choices} />}</Loaded>
      {seen.refusal?.code === 'makers_leaflet' && <LeafletTimer food={words.food} />}
    </section>
  );
}
