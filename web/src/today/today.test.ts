import { describe, expect, it } from 'vitest';

import { day, household } from '../../tests/fixtures';
import { chartRows, hours } from './day_chart';
import { addressOf } from './next';
import { byHand } from './rest_of_today';

describe('rest of today', () => {
  const hands = byHand(day.today);
  it('stands by hand: a task of two is under both', () => {
    expect(hands.map((one) => one.hand)).toEqual(['Tom', 'Mary', 'Ann']);
    const titles = (hand: string) => hands.find((one) => one.hand === hand)?.shown.map((one) => one.task.title);
    expect(titles('Ann')).toEqual(['Stone and cook plums']);
    expect(titles('Mary')).toContain('Stone and cook plums');
  });
  it('puts unattended work under the attended work it goes along with', () => {
    const mary = hands.find((one) => one.hand === 'Mary')?.shown ?? [];
    const roast = mary.find((one) => one.task.title.startsWith('Roast'));
    expect(roast?.meanwhile.map((one) => one.title)).toEqual(['Broth simmers in the slow cooker']);
  });
  it('loses no task', () => {
    const alone = byHand(day.today.filter((task) => task.attention === 'unattended'));
    expect(alone).toHaveLength(1);
    expect(alone[0]?.hand).toBe('');
    expect(alone[0]?.shown).toHaveLength(2);
  });
  it('is drawn with one row for each hand', () => {
    const rows = chartRows(day.today, household.now);
    expect(rows.map((row) => row.name)).toEqual(['Tom', 'Mary', 'Ann']);
    expect(rows[0]?.bars[0]).toEqual({ from: 0, to: 20, hands: true, nearby: false });
  });
  it('marks full hours, fewer where there is less room', () => {
    expect(hours(460, 240, 600)).toEqual([20, 80, 140, 200]);
    expect(hours(460, 840, 200).length).toBeLessThan(5);
  });
});

describe('the button of the next thing', () => {
  it('leads where a thing wants another look, and acts at once where it does not', () => {
    expect(addressOf({ ...day.next, action: 'next_stage', batch: 'b1' })).toBe('/batches/b1');
    expect(addressOf({ ...day.next, action: 'start_batch', route: 'pear/dried', lot: 'p', kg: 2 })).toBe(
      '/start-batch?route=pear%2Fdried&lot=p&kg=2',
    );
    expect(addressOf({ ...day.next, action: 'butcher', lot: 'ducks' })).toBe('/butchering');
    expect(addressOf(day.next)).toBe('');
  });
});
