import type { BatchView } from '../api/types';
import { listWords } from '../shared/format';
import { t } from '../shared/texts';

/** Cautions in words first; then what goes in and what should come out. */
export function BatchFacts({ batch }: { batch: BatchView }) {
  return (
    <>
      {batch.cautions.map((line) => (
        <p key={line} class="caution">
          {line}
        </p>
      ))}
      <p>
        {t.batch.takes(batch.amount, listWords(batch.lots))}{' '}
        {batch.packs_expected > 0 && t.batch.makes(String(Math.max(1, Math.round(batch.packs_expected))), batch.pack)}
      </p>
    </>
  );
}
