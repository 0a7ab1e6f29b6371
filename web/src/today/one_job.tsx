import type { HouseholdView } from '../api/types';
import { act } from '../shared/act';
import { t } from '../shared/texts';

/** Some days have room for one job only. */
export function OneJob({ household }: { household: HouseholdView }) {
  const today = household.now.slice(0, 10);
  const ask = (): void =>
    void act([{ kind: 'settings_changed', what: { values: { one_job_day: today } } }], t.today.oneJobSet);
  return (
    <button type="button" class="quiet" onClick={ask}>
      {t.today.oneJob}
    </button>
  );
}
