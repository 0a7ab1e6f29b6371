import { describe, expect, it } from 'vitest';

import { day } from '../../tests/fixtures';
import { mostPressing } from './batches_page';

describe('several batches', () => {
  const [one] = day.running;
  const running = ['quiet', 'later', 'over'].map((batch) => ({ ...one!, batch }));
  it('stand by whose timer is due first; those without one as the household has them', () => {
    const timers = [
      { batch: 'later', seconds_left: 900 },
      { batch: 'over', seconds_left: -20 },
      { batch: 'later', seconds_left: 60 },
    ];
    expect(mostPressing(running, timers).map((batch) => batch.batch)).toEqual(['over', 'later', 'quiet']);
    expect(mostPressing(running, []).map((batch) => batch.batch)).toEqual(['quiet', 'later', 'over']);
  });
});
