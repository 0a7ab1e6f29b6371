import type { QrView } from '../api/types';
import { t } from '../shared/texts';

/** A QR code as the household's computer draws it. */
export function Qr({ qr, leadsTo }: { qr: QrView; leadsTo: string }) {
  return (
    <svg class="qr" viewBox={`0 0 ${qr.size} ${qr.size}`} role="img" aria-label={t.devices.qr(leadsTo)}>
      <path d={qr.path} shape-rendering="crispEdges" />
    </svg>
  );
}

/** A certificate's fingerprint in rows of eight, to be compared by eye. */
export function Fingerprint({ text }: { text: string }) {
  return (
    <code class="fingerprint">
      {text.split(':').map((pair, i) => (
        <span key={i}>{pair}</span>
      ))}
    </code>
  );
}

/** How a certificate is installed, in words that fit any phone. */
export function TrustSteps({ fingerprint }: { fingerprint: string }) {
  return (
    <>
      <p>{t.devices.compare}</p>
      <Fingerprint text={fingerprint} />
      <p>{t.devices.install}</p>
      <p class="help">{t.devices.whatItMay}</p>
    </>
  );
}
