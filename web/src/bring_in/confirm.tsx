import { useState } from 'preact/hooks';

import type { BringInDraft } from '../api/types';
import { act } from '../shared/act';
import { grams, newId } from '../shared/entries';
import { Figure } from '../shared/figure';
import { Check, Fold, Form } from '../shared/form';
import { go } from '../shared/router';
import { t } from '../shared/texts';

interface Props {
  draft: BringInDraft;
  foraged: boolean;
  onBack: () => void;
  onDone: () => void;
}

/** Brings it in. True when it was kept. */
export function keepDraft(draft: BringInDraft, facts: string[]): Promise<boolean> {
  const what = {
    parcel: newId(),
    crop: draft.crop,
    mass_g: grams(draft.mass_kg),
    condition: draft.condition,
    place: draft.place,
    form: draft.form || 'fresh',
    note: '',
    as_said: draft.amount_said,
    facts,
  };
  return act([{ kind: 'brought_in', what }], t.bringIn.done(draft.amount_said, draft.crop_name));
}

/** What was understood, to be looked at once before it is kept. */
export function Confirm({ draft, foraged, onBack, onDone }: Props) {
  const [facts, setFacts] = useState<string[]>([]);
  const [busy, setBusy] = useState(false);
  const change = (fact: string, on: boolean): void =>
    setFacts(on ? [...facts, fact] : facts.filter((one) => one !== fact));
  const keep = async (): Promise<boolean> => {
    setBusy(true);
    const kept = await keepDraft(draft, facts);
    setBusy(false);
    return kept;
  };
  return (
    <section class="confirm">
      {foraged && <p class="caution">{t.bringIn.foraged}</p>}
      <p class="confirm-line">{t.bringIn.understood(draft)}</p>
      <p>
        {t.bringIn.weighs}{' '}
        {draft.how_found === '' ? draft.mass_words : <Figure words={draft.mass_words} how={[draft.how_found]} />}
      </p>
      <Form button={t.bringIn.keep} ready={!busy} onSend={() => void keep().then((kept) => kept && go('/'))}>
        <Fold title={t.bringIn.facts}>
          {(['mould', 'frost_killed_vine', 'frozen_raw'] as const).map((fact) => (
            <Check
              key={fact}
              label={t.bringIn.factWords[fact]}
              checked={facts.includes(fact)}
              onChange={(on) => change(fact, on)}
            />
          ))}
        </Fold>
      </Form>
      <button
        type="button"
        class="plain-button"
        disabled={busy}
        onClick={() => void keep().then((kept) => kept && onDone())}
      >
        {t.bringIn.keepAndMore}
      </button>
      <button type="button" class="quiet" onClick={onBack}>
        {t.bringIn.change}
      </button>
    </section>
  );
}
