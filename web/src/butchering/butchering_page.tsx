import type { ComponentChildren } from 'preact';
import { useState } from 'preact/hooks';

import { post } from '../api/client';
import type { ButcheringView, Refusal } from '../api/types';
import { act } from '../shared/act';
import type { Draft } from '../shared/entries';
import { Check, Form, NumberField, TextField } from '../shared/form';
import { readNumber } from '../shared/format';
import { Rejected } from '../shared/outbox';
import { Heading, No } from '../shared/page';
import { become } from '../shared/router';
import { t } from '../shared/texts';

/** What the household made of the line, and the entries that bring it in. */
interface ButcheringDraft {
  day: ButcheringView;
  entries: Draft[];
}

/** From a count and a weight to clocks, packs, broth and freezing load; then brought in. */
export function ButcheringPage() {
  const [line, setLine] = useState('');
  const [killed, setKilled] = useState('');
  const [whole, setWhole] = useState('0');
  const [more, setMore] = useState(false);
  const [day, setDay] = useState<ButcheringDraft | null>(null);
  const [no, setNo] = useState<Refusal | null>(null);
  const [busy, setBusy] = useState(false);
  const ask = { line, killed, place: '', whole: Math.round(readNumber(whole) ?? 0) };
  const send = async (work: () => Promise<void>): Promise<void> => {
    setBusy(true);
    setNo(null);
    try {
      await work();
    } catch (error) {
      setNo(
        error instanceof Rejected ? error.refusal : { code: 'offline', message: t.butchering.needs, instead: [] },
      );
    }
    setBusy(false);
  };
  const draft = (left: boolean): void =>
    void send(async () => setDay(await post<ButcheringDraft>('/butchering/draft', { ...ask, more: left })));
  const bring = (): void =>
    void send(async () => {
      if (day && (await act(day.entries, t.butchering.done(day.day.words)))) become('/');
    });
  const changed = (set: (value: string) => void) => (value: string) => {
    set(value);
    setDay(null);
  };
  return (
    <>
      <Heading title={t.butchering.title} />
      <Form onSend={() => draft(more)} button={t.butchering.look} ready={line.trim() !== '' && !busy}>
        <TextField label={t.butchering.line} help={t.butchering.lineHelp} value={line} onChange={changed(setLine)} />
        <TextField
          label={t.butchering.killed}
          help={t.butchering.killedHelp}
          value={killed}
          onChange={changed(setKilled)}
        />
        <NumberField label={t.butchering.whole} value={whole} onChange={changed(setWhole)} />
      </Form>
      <div aria-live="polite">
        {no && <No no={no} />}
        {day && (
          <Day day={day.day} busy={busy} onBring={bring}>
            {day.day.standing !== '' && (
              <Check
                label={t.butchering.more}
                checked={more}
                onChange={(left) => {
                  setMore(left);
                  draft(left);
                }}
              />
            )}
          </Day>
        )}
      </div>
    </>
  );
}

function Day(props: { day: ButcheringView; busy: boolean; onBring: () => void; children: ComponentChildren }) {
  const { day, busy, onBring, children } = props;
  return (
    <section aria-labelledby="day">
      <h2 id="day">{day.words}</h2>
      <dl>
        {day.lines.map((line) => (
          <div key={line.key}>
            <dt>{line.what}</dt>
            <dd>
              <strong>{line.amount}</strong> {line.then}
              {line.source !== '' && (
                <>
                  <br />
                  <small>{line.source}</small>
                </>
              )}
            </dd>
          </div>
        ))}
      </dl>
      {day.cautions.map((caution) => (
        <p key={caution} class="caution">
          {caution}
        </p>
      ))}
      {children}
      <button type="button" class="main" disabled={busy} onClick={onBring}>
        {t.butchering.bring}
      </button>
    </section>
  );
}
