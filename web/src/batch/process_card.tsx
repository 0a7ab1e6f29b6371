import { useId } from 'preact/hooks';

import type { ProcessView } from '../api/types';
import { t } from '../shared/texts';

/** The published heat process, set apart like a recipe card. Nothing on it is computed. */
export function ProcessCard({ process, deferTo }: { process: ProcessView; deferTo: string }) {
  const id = useId();
  const rows: [string, string][] = [
    [t.process.jar, process.jar],
    [t.process.headspace, process.headspace],
    [t.process.acid, process.added_acid],
    [t.process.altitude, process.altitude_band],
  ];
  return (
    <section class="process" aria-labelledby={id}>
      <h2 id={id}>{t.process.heading}</h2>
      <p class="process-time">
        {process.time}
        {process.pressure !== '' && <span>{process.pressure}</span>}
      </p>
      <p>{process.method}</p>
      <dl>
        {rows
          .filter(([, value]) => value !== '')
          .map(([name, value]) => (
            <div key={name}>
              <dt>{name}</dt>
              <dd>{value}</dd>
            </div>
          ))}
      </dl>
      {process.requirements.length > 0 && (
        <ul class="plain">
          {process.requirements.map((line) => (
            <li key={line}>{line}</li>
          ))}
        </ul>
      )}
      <p class="small-print">
        {t.process.asPublished(
          [process.source, process.place, process.edition].filter((part) => part !== '').join(', '),
        )}
      </p>
      {deferTo !== '' && <p class="small-print">{deferTo}</p>}
    </section>
  );
}
