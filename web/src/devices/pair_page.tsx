import { useEffect, useId, useState } from 'preact/hooks';

import { get, post } from '../api/client';
import type { PairingView, Refusal } from '../api/types';
import { Check, Form, TextField } from '../shared/form';
import { Rejected } from '../shared/outbox';
import { Heading, No } from '../shared/page';
import { t } from '../shared/texts';
import { TrustSteps } from './parts';
import './devices.css';

/** Where a device that is not paired yet is led. Stands alone: nothing of the household may be asked for before. */
export function PairPage() {
  const [pairing, setPairing] = useState<PairingView | null>(null);
  const [away, setAway] = useState(false);
  useEffect(() => {
    get<PairingView>('/pairing').then(
      (view) => (view.paired ? location.replace('/') : setPairing(view)),
      () => setAway(true),
    );
  }, []);
  return (
    <main id="main" class="pair">
      <Heading title={t.pair.title}>{pairing && <p>{t.pair.intro}</p>}</Heading>
      {away && (
        <p role="alert">
          {t.offline.needs} <a href="/">{t.pair.onward}</a>
        </p>
      )}
      {pairing?.secure && <Knock help={t.pair.secretHelp} label={t.pair.secret} />}
      {pairing && !pairing.secure && <WithoutTls pairing={pairing} />}
    </main>
  );
}

/** The connection can be read by others: first the way to a better one, then the way on as it is. */
function WithoutTls({ pairing }: { pairing: PairingView }) {
  return (
    <>
      <h2>{t.pair.better}</h2>
      <p>{t.pair.betterWhy}</p>
      <ol class="steps">
        <li>
          <a class="button" href="/ca.crt" download="stillroom-ca.crt">
            {t.devices.fetch}
          </a>
        </li>
        <li>
          <TrustSteps fingerprint={pairing.fingerprint} />
        </li>
        <li>
          {t.pair.thenOpen}{' '}
          <a class="numbers" href={pairing.secure_address}>
            {pairing.secure_address}
          </a>
        </li>
      </ol>
      <h2>{t.pair.asItIs}</h2>
      <p>{t.pair.asItIsWhat}</p>
      <Knock help={t.pair.codeHelp} label={t.pair.code} codeOnly />
    </>
  );
}

const kCode = /^\d{3} ?\d{3}$/;

function Knock({ label, help, codeOnly = false }: { label: string; help: string; codeOnly?: boolean }) {
  const [name, setName] = useState('');
  const [secret, setSecret] = useState('');
  const [shown, setShown] = useState(codeOnly);
  const [no, setNo] = useState<Refusal | null>(null);
  const [busy, setBusy] = useState(false);
  const id = useId();
  const send = (): void => {
    const typed = secret.trim();
    const code = codeOnly || kCode.test(typed) ? typed.replace(' ', '') : '';
    // One way of writing an accented letter: phones and terminals may differ.
    const passphrase = code === '' ? secret.normalize('NFC') : '';
    setBusy(true);
    setNo(null);
    post('/pairing', { name: name.trim(), passphrase, code }).then(
      () => location.replace('/'),
      (error: unknown) => {
        setBusy(false);
        setNo(error instanceof Rejected ? error.refusal : { code: '', message: t.offline.needs, instead: [] });
      },
    );
  };
  const shared = {
    id,
    value: secret,
    inputMode: codeOnly ? ('numeric' as const) : ('text' as const),
    autocomplete: 'off' as const,
    autocapitalize: 'none' as const,
    spellcheck: false,
    'aria-describedby': `${id}help`,
    onInput: (event: Event) => setSecret((event.target as HTMLInputElement).value),
  };
  return (
    <Form onSend={send} button={t.pair.button} ready={!busy && name.trim() !== '' && secret.trim() !== ''}>
      <TextField label={t.pair.name} help={t.pair.nameHelp} value={name} onChange={setName} />
      <div class="field">
        <label for={id}>{label}</label>
        {shown ? <input type="text" {...shared} /> : <input type="password" {...shared} />}
        <p class="help" id={`${id}help`}>
          {help}
        </p>
      </div>
      {!codeOnly && <Check label={t.pair.show} checked={shown} onChange={setShown} />}
      {no && <No no={no} alert />}
    </Form>
  );
}
