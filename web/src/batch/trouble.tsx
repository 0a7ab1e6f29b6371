import { useState } from 'preact/hooks';

import type { BatchView, DoubtView, LarderShelf, TroubleSpan, TroubleView } from '../api/types';
import { act } from '../shared/act';
import type { Kinds } from '../shared/entries';
import { Form, NumberField, Select } from '../shared/form';
import { readNumber } from '../shared/format';
import { t } from '../shared/texts';

/** What to do, by the time that is said. Exported for its test. Nobody knowing the time is no span: throw it out. */
export function spanFor(trouble: TroubleView, minutes: number | null): TroubleSpan | null {
  if (trouble.asks === '') return trouble.spans[0] ?? null;
  if (minutes === null || minutes < 0) return null;
  return (
    trouble.spans.find((one) => minutes >= one.from_min && (one.to_min === null || minutes < one.to_min)) ?? null
  );
}

/** What it befell: a batch and what came out of it, or a place with all that lies there. */
export interface Befallen {
  troubles: TroubleView[];
  /** What the entry says of it; `parcels` only where not all that a batch made is meant. */
  of: { batch?: string; stage?: string; place?: string; parcels: string[] };
  /** Packs of which a number may be named, and what they are; empty where there is nothing to count yet. */
  parcel: string;
  pack: string;
  inDoubt: DoubtView[];
  wentWrong: string[];
}

export function befallenBatch(batch: BatchView): Befallen {
  const step = batch.steps[batch.current];
  // While one load of several is in the canner, only that load is concerned.
  const stage = batch.packed_parcel === '' && step?.shows_process ? step.stage : '';
  return {
    troubles: batch.troubles,
    of: { batch: batch.id, stage, parcels: [] },
    parcel: batch.packed_parcel,
    pack: batch.pack,
    inDoubt: batch.in_doubt,
    wentWrong: batch.went_wrong,
  };
}

export function befallenPlace(shelf: LarderShelf): Befallen {
  const of = { place: shelf.place_key, parcels: shelf.holds };
  return { troubles: shelf.troubles, of, parcel: '', pack: '', inDoubt: [], wentWrong: [] };
}

const kSetting = 'wrong_setting';

/** The entry that writes it down. Exported for its test. */
export function metEntry(
  about: Befallen,
  trouble: TroubleView,
  outcome: string,
  minutes: number | null,
  packs: number | null,
): Kinds['trouble_met'] {
  const some = packs !== null && packs > 0 && about.parcel !== '' && trouble.fault !== kSetting;
  const doubtful = about.inDoubt.map((one) => one.parcel);
  return {
    fault: trouble.fault,
    outcome,
    ...about.of,
    ...(about.of.batch === undefined ? {} : { stage: outcome === 'process_again' ? (about.of.stage ?? '') : '' }),
    ...(trouble.fault === kSetting ? { parcels: doubtful } : {}),
    ...(some ? { parcels: [about.parcel], packs } : {}),
    ...(minutes === null ? {} : { elapsed_min: minutes }),
  };
}

/** Pick what happened, answer what is asked, read what to do, one tap to write it down. */
export function Trouble({ about }: { about: Befallen }) {
  const [fault, setFault] = useState('');
  const [minutes, setMinutes] = useState('');
  const [packs, setPacks] = useState('');
  const trouble = about.troubles.find((one) => one.fault === fault);
  return (
    <div class="trouble">
      <Select
        label={t.trouble.what}
        value={fault}
        none={t.trouble.choose}
        onChange={(key) => {
          setFault(key);
          setMinutes('');
          setPacks('');
        }}
        options={about.troubles.map((one) => ({ key: one.fault, name: one.what }))}
      />
      {trouble && trouble.see !== '' && <p class="soft">{trouble.see}</p>}
      {trouble && trouble.asks !== '' && (
        <NumberField label={trouble.asks} value={minutes} onChange={setMinutes} unit={t.trouble.minutes} />
      )}
      {trouble && about.parcel !== '' && fault !== kSetting && (
        <NumberField
          label={t.trouble.howMany(about.pack)}
          help={t.trouble.howManyHelp}
          value={packs}
          onChange={setPacks}
        />
      )}
      {trouble && (
        <Answer key={fault} about={about} trouble={trouble} minutes={readNumber(minutes)} packs={readNumber(packs)} />
      )}
      {!trouble && <p>{about.of.place === undefined ? t.batch.inDoubt : t.trouble.inDoubt}</p>}
      {about.wentWrong.length > 0 && (
        <ul class="plain">
          {about.wentWrong.map((line) => (
            <li key={line}>{line}</li>
          ))}
        </ul>
      )}
    </div>
  );
}

function Answer(props: { about: Befallen; trouble: TroubleView; minutes: number | null; packs: number | null }) {
  const { about, trouble, minutes, packs } = props;
  const span = spanFor(trouble, minutes);
  const setting = trouble.fault === kSetting;
  const send = (outcome: string): void => {
    const what = metEntry(about, trouble, outcome, minutes, packs);
    void act([{ kind: 'trouble_met', what }], t.trouble.written(trouble.what));
  };
  if (!span && trouble.asks !== '' && minutes === null) {
    return (
      <Form onSend={() => send('discard')} button={t.trouble.nobodyKnows}>
        <p>{t.trouble.sayHowLong}</p>
      </Form>
    );
  }
  const outcomes = span?.outcomes ?? ['discard'];
  return (
    <section class="trouble-answer" aria-live="polite">
      <p class="step-text">{span?.then ?? t.trouble.throwOut}</p>
      {setting && about.inDoubt.length > 0 && (
        <ul class="plain">
          {about.inDoubt.map((one) => (
            <li key={one.parcel}>{one.name}</li>
          ))}
        </ul>
      )}
      {setting && about.inDoubt.length === 0 && about.parcel !== '' && <p>{t.trouble.settingsFirst}</p>}
      <div class="trouble-outcomes">
        {outcomes.map((outcome) => (
          <button
            key={outcome}
            type="button"
            class={outcome === outcomes[0] ? 'main' : 'plain-button'}
            onClick={() => send(outcome)}
          >
            {t.trouble.outcomes[outcome] ?? outcome}
          </button>
        ))}
      </div>
      {span && <p class="small-print">{t.trouble.source(span.source)}</p>}
    </section>
  );
}
