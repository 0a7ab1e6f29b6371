import { useState } from 'preact/hooks';

import { act } from '../shared/act';
import type { Draft } from '../shared/entries';
import { Form, NumberField } from '../shared/form';
import { readNumber } from '../shared/format';
import { t } from '../shared/texts';

interface Props {
  heading: string;
  /** Words for every key the tables know. */
  known: Readonly<Record<string, string>>;
  have: Map<string, number>;
  draft: (key: string, count: number) => Draft;
}

/** Counted things, canners or jars: only what was changed is entered. */
export function Counts({ heading, known, have, draft }: Props) {
  const [typed, setTyped] = useState<Record<string, string>>({});
  const id = heading.toLowerCase().replaceAll(/[^a-z]+/g, '-');
  const keys = [...new Set([...Object.keys(known), ...have.keys()])];
  const shown = (key: string): string => typed[key] ?? String(have.get(key) ?? 0);
  const changed = keys.filter((key) => {
    const count = readNumber(shown(key));
    return count !== null && count !== (have.get(key) ?? 0);
  });
  const save = async (): Promise<void> => {
    const drafts = changed.map((key) => draft(key, readNumber(shown(key)) ?? 0));
    if (await act(drafts, t.settings.saved(heading))) setTyped({});
  };
  return (
    <section aria-labelledby={id}>
      <h2 id={id}>{heading}</h2>
      <Form onSend={() => void save()} button={t.settings.save} ready={changed.length > 0}>
        {keys.map((key) => (
          <NumberField
            key={key}
            label={known[key] ?? key.replaceAll('_', ' ')}
            value={shown(key)}
            onChange={(value) => setTyped({ ...typed, [key]: value })}
          />
        ))}
      </Form>
    </section>
  );
}
