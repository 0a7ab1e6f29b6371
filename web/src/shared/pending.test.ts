import { describe, expect, it } from 'vitest';

import { batch, day, larder, lot } from '../../tests/fixtures';
import { makeEntry, type Draft, type Entry } from './entries';
import { batchWithPending, dayWithPending, larderWithPending, lotWithPending, runningTimers } from './pending';

const kNow = Date.parse('2026-09-16T12:40:00Z');
const entry = (draft: Draft): Entry => makeEntry(draft, '', kNow);

describe('while changes wait to be sent', () => {
  it('a finished step is drawn as done and the next one becomes current', () => {
    const seen = batchWithPending(batch, [
      entry({ kind: 'stage_finished', what: { batch: 'b1', stage: 'process' } }),
      entry({ kind: 'stage_started', what: { batch: 'b1', stage: 'cool', who: '' } }),
    ]);
    expect(seen.steps.map((step) => step.state)).toEqual(['done', 'done', 'underway']);
    expect(seen.current).toBe(2);
  });

  it('another batch is left alone', () => {
    const other = entry({ kind: 'stage_finished', what: { batch: 'b2', stage: 'process' } });
    expect(batchWithPending(batch, [other])).toEqual(batch);
  });

  it('the last finished step leads to packing', () => {
    const done = batch.steps.map((step) =>
      entry({ kind: 'stage_finished', what: { batch: 'b1', stage: step.stage } }),
    );
    expect(batchWithPending(batch, done).current).toBe(batch.steps.length);
  });

  it('a taken jar is gone from the shelf and from what to eat first', () => {
    const taken = [1, 2].map(() => entry({ kind: 'taken', what: { parcel: '7k3', packs: 1, why: '' } }));
    const seen = larderWithPending(larder, taken);
    expect(seen.shelves[0]?.packs[0]?.packs).toBe(7);
    expect(seen.eat_first[0]?.packs).toBe(7);
  });

  it('a shelf counted empty shows nothing', () => {
    const counted = entry({ kind: 'counted', what: { parcel: '9p2', packs: 0 } });
    expect(larderWithPending(larder, [counted]).shelves[1]?.packs).toEqual([]);
  });

  it('timers keep their deadline, however late they are looked at', () => {
    const shown = { id: 't1', name: 'Process', batch: 'b1', batch_name: 'Pears', due: '', seconds_left: 90 };
    const set = entry({
      kind: 'timer_set',
      what: { timer: 't2', batch: 'b1', name: 'Cool', due: '2026-09-16T12:41:00Z' },
    });
    const running = runningTimers([shown], kNow, [set]);
    expect(running.map((timer) => [timer.id, timer.deadline - kNow])).toEqual([
      ['t2', 60_000],
      ['t1', 90_000],
    ]);
    const stopped = entry({ kind: 'timer_stopped', what: { timer: 't1' } });
    expect(runningTimers([shown], kNow, [set, stopped]).map((timer) => timer.id)).toEqual(['t2']);
  });

  it('jars that were given or thrown away are gone from their shelf, and marked', () => {
    const seen = larderWithPending(larder, [
      entry({ kind: 'given_away', what: { parcel: '7k3', packs: 2, to: 'a neighbour' } }),
      entry({ kind: 'thrown_away', what: { parcel: '7k3', packs: 1, why: 'cracked' } }),
    ]);
    expect(seen.shelves[0]?.packs[0]).toMatchObject({ packs: 6, waiting: true });
  });

  it('jars that were moved stand on the other shelf', () => {
    const to = larder.shelves[1]?.place_key ?? '';
    const moved = larderWithPending(larder, [entry({ kind: 'moved', what: { parcel: '7k3', place: to } })]);
    expect(moved.shelves[0]?.packs.map((pack) => pack.parcel)).not.toContain('7k3');
    expect(moved.shelves[1]?.packs.map((pack) => pack.parcel)).toContain('7k3');
    const shed = larderWithPending(larder, [entry({ kind: 'moved', what: { parcel: '7k3', place: 'shed' } })], {
      shed: 'Garden shed',
    });
    expect(shed.shelves.at(-1)).toMatchObject({ place: 'Garden shed', place_key: 'shed' });
  });

  it('what was packed here stands in the larder before the household has heard of it', () => {
    const place = larder.shelves[0]?.place_key ?? '';
    const packed = entry({
      kind: 'packed',
      what: {
        batch: 'b1',
        parcel: 'new',
        food: 'pear',
        form: 'canned',
        pack: 'quart jar',
        packs: 6,
        place,
        code: 'C',
      },
    });
    const seen = larderWithPending(larder, [
      packed,
      entry({ kind: 'taken', what: { parcel: 'new', packs: 1, why: '' } }),
    ]);
    expect(seen.shelves[0]?.packs.at(-1)).toMatchObject({ parcel: 'new', packs: 5, code: 'C', waiting: true });
  });

  it('a lot that was brought in, looked at, moved and eaten of is drawn so on the day', () => {
    const known = day.strips[0]!;
    const what = {
      parcel: 'new',
      crop: 'quince',
      mass_g: 4000,
      condition: 'firm',
      place: 'shed',
      form: 'fresh',
      note: '',
      as_said: '',
      facts: [],
    };
    const seen = dayWithPending(
      day,
      [
        entry({ kind: 'brought_in', what }),
        entry({ kind: 'observed', what: { parcel: 'new', condition: 'soft', facts: [] } }),
        entry({ kind: 'moved', what: { parcel: known.lot, place: 'shed' } }),
        entry({ kind: 'eaten_fresh', what: { parcel: 'new', mass_g: 1000 } }),
      ],
      { shed: 'Garden shed' },
      { quince: 'quinces' },
    );
    expect(seen.strips).toHaveLength(day.strips.length + 1);
    expect(seen.strips[0]).toMatchObject({ name: 'quinces', condition: 'soft', mass_kg: 3, waiting: true });
    expect(seen.strips[1]).toMatchObject({ lot: known.lot, place: 'Garden shed', waiting: true });
    expect(seen.strips[2]).toEqual(day.strips[1]);
  });

  it('a lot that was thrown away whole is gone from the day', () => {
    const known = day.strips[0]!;
    const thrown = { parcel: known.lot, mass_g: known.mass_kg * 1000, why: 'mould' };
    const seen = dayWithPending(day, [entry({ kind: 'thrown_away', what: thrown })]);
    expect(seen.strips.map((strip) => strip.lot)).not.toContain(known.lot);
  });

  it('a look at a lot is seen on its own page', () => {
    const look = entry({ kind: 'observed', what: { parcel: lot.strip.lot, condition: 'soft', facts: [] } });
    expect(lotWithPending(lot, [look], 'us').strip).toMatchObject({ condition: 'soft', waiting: true });
  });

  it('a difference that was settled here is not asked about again', () => {
    const about = day.discrepancies[0]?.about ?? '';
    const settled = entry({ kind: 'discrepancy_settled', what: { about, how: 'left' } });
    expect(dayWithPending(day, [settled]).discrepancies).toEqual([]);
  });
});
