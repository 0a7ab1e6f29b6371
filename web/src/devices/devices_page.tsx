import { useEffect, useState } from 'preact/hooks';

import { post } from '../api/client';
import type { DevicesView, PairedDevice, PairingCode, SetUpView } from '../api/types';
import { Fold } from '../shared/form';
import { Rejected } from '../shared/outbox';
import { Heading, Loaded } from '../shared/page';
import { t } from '../shared/texts';
import { say, sayNo } from '../shared/toast';
import { refresh, useView } from '../shared/views';
import { Qr, TrustSteps } from './parts';
import './devices.css';

export function DevicesPage() {
  const seen = useView<DevicesView>('/devices');
  return (
    <div class="devices">
      <Heading title={t.devices.title} />
      <Loaded seen={seen}>
        {(view) =>
          view.shared ? (
            <>
              {view.set_up && <SetUp setUp={view.set_up} />}
              <Paired view={view} />
            </>
          ) : (
            <>
              <p>{t.devices.notShared}</p>
              <p>
                <code>stillroom serve --share</code>
              </p>
              <p class="help">{t.devices.notSharedWhat}</p>
            </>
          )
        }
      </Loaded>
    </div>
  );
}

function no(error: unknown): void {
  if (error instanceof Rejected) sayNo(error.refusal.message, error.refusal.instead);
  else sayNo(t.offline.needs, []);
}

/** Shown on the household's computer: three steps, each with its picture for the phone's camera. */
function SetUp({ setUp }: { setUp: SetUpView }) {
  const [way, ...others] = setUp.ways;
  return (
    <section aria-labelledby="set-up">
      <h2 id="set-up">{t.devices.setUp}</h2>
      <p>{t.devices.sameNetwork}</p>
      {setUp.ways.every((one) => one.by_name) && <p class="caution">{t.devices.noAddress}</p>}
      <ol class="steps">
        <li>
          <h3>{t.devices.stepTrust}</h3>
          {setUp.certificate ? (
            <>
              <p>{t.devices.fetchOnPhone}</p>
              <Qr qr={setUp.certificate.qr} leadsTo={setUp.certificate.address} />
              <span class="numbers">{setUp.certificate.address}</span>
            </>
          ) : (
            <p>
              {t.devices.fetchHere}{' '}
              <a href="/ca.crt" download="stillroom-ca.crt">
                {t.devices.fetch}
              </a>
            </p>
          )}
          <TrustSteps fingerprint={setUp.fingerprint} />
        </li>
        {way && (
          <li>
            <h3>{t.devices.stepOpen}</h3>
            <Qr qr={way.qr} leadsTo={way.address} />
            <span class="numbers">{way.address}</span>
            {others.length > 0 && (
              <Fold title={t.devices.otherWays}>
                {others.map((one) => (
                  <div key={one.address}>
                    <Qr qr={one.qr} leadsTo={one.address} />
                    <span class="numbers">{one.address}</span>
                    {one.by_name && (
                      <p class="help">{one.announced ? t.devices.announced : t.devices.notAnnounced}</p>
                    )}
                  </div>
                ))}
              </Fold>
            )}
          </li>
        )}
        <li>
          <h3>{t.devices.stepEnter}</h3>
          <Code />
        </li>
      </ol>
      {setUp.live.length > 0 && (
        <Fold title={t.devices.withoutTitle}>
          <p>{t.devices.without}</p>
          <ul class="plain">
            {setUp.live.map((address) => (
              <li key={address} class="numbers">
                {address}
              </li>
            ))}
          </ul>
        </Fold>
      )}
    </section>
  );
}

/** Six digits for one phone, and how long they hold. */
function Code() {
  const [code, setCode] = useState<PairingCode | null>(null);
  const [until, setUntil] = useState(0);
  const [left, setLeft] = useState(0);
  useEffect(() => {
    if (until === 0) return undefined;
    const count = (): void => setLeft(Math.max(0, Math.ceil((until - Date.now()) / 1000)));
    count();
    const timer = setInterval(count, 1000);
    return () => clearInterval(timer);
  }, [until]);
  const ask = (): void => {
    post<PairingCode>('/pairing/code', {}).then((made) => {
      setCode(made);
      setUntil(Date.now() + made.seconds * 1000);
      setLeft(made.seconds);
    }, no);
  };
  return (
    <>
      <p>{t.devices.enter}</p>
      <div role="status">
        {code && left > 0 && <p class="code-digits">{`${code.code.slice(0, 3)} ${code.code.slice(3)}`}</p>}
        {code && left === 0 && <p>{t.devices.codeOver}</p>}
      </div>
      {code && left > 0 && <p class="help">{t.devices.codeHolds(Math.ceil(left / 60))}</p>}
      <button type="button" onClick={ask}>
        {code ? t.devices.newCode : t.devices.showCode}
      </button>
    </>
  );
}

function Paired({ view }: { view: DevicesView }) {
  return (
    <section aria-labelledby="paired">
      <h2 id="paired">{t.devices.paired}</h2>
      {view.devices.length === 0 && <p>{t.devices.none}</p>}
      <ul class="plain">
        {view.devices.map((device) => (
          <li key={device.id}>
            <OneDevice device={device} here={device.id === view.this_device} />
          </li>
        ))}
      </ul>
    </section>
  );
}

const kDayMs = 86_400_000;
const daysSince = (utc: string): number => Math.max(0, Math.floor((Date.now() - Date.parse(utc)) / kDayMs));

function OneDevice({ device, here }: { device: PairedDevice; here: boolean }) {
  const [sure, setSure] = useState(false);
  const withdraw = (): void => {
    post('/devices/withdraw', { id: device.id }).then(() => {
      if (here) location.assign('/pair');
      else {
        say(t.devices.withdrawn(device.name));
        refresh();
      }
    }, no);
  };
  return (
    <div class="device-line">
      <div>
        <p>
          <strong>{device.name}</strong>
          {here && ` (${t.devices.here})`}
        </p>
        <p class="soft">{t.devices.since(daysSince(device.paired), daysSince(device.seen), device.secure)}</p>
      </div>
      {sure ? (
        <>
          <button type="button" onClick={withdraw} aria-label={t.devices.withdrawName(device.name)}>
            {t.devices.withdrawSure}
          </button>
          <button type="button" class="quiet" onClick={() => setSure(false)}>
            {t.devices.keep}
          </button>
        </>
      ) : (
        <button type="button" onClick={() => setSure(true)} aria-label={t.devices.withdrawName(device.name)}>
          {t.devices.withdraw}
        </button>
      )}
    </div>
  );
}
