import { describe, expect, it } from 'vitest';

import * as format from './format';

const now = '2026-09-16T07:40'; // a Wednesday

describe('times', () => {
  it('are said by a twelve-hour clock in US units and a 24-hour clock in metric', () => {
    expect(format.timeWords('2026-09-16T00:05', 'us')).toBe('12:05 am');
    expect(format.timeWords('2026-09-16T12:00', 'us')).toBe('12:00 pm');
    expect(format.timeWords('2026-09-16T17:30', 'us')).toBe('5:30 pm');
    expect(format.timeWords('2026-09-16T05:30', 'metric')).toBe('05:30');
  });
  it('say the day of an end that is not on the day of the start', () => {
    expect(format.endWords('2026-09-16T08:15', '2026-09-16T17:30', 'us')).toBe('5:30 pm');
    expect(format.endWords('2026-09-16T20:00', '2026-09-17T08:00', 'us')).toBe('the next day 8:00 am');
    expect(format.endWords('2026-09-16T08:15', '2026-09-30T08:15', 'us')).toBe('Wed 30 Sep 8:15 am');
  });
  it('name near days and date far ones', () => {
    expect(format.dayWords('2026-09-16', now)).toBe('today');
    expect(format.dayWords('2026-09-17T01:00', now)).toBe('tomorrow');
    expect(format.dayWords('2026-09-15', now)).toBe('yesterday');
    expect(format.dayWords('2026-09-22', now)).toBe('Tuesday');
    expect(format.dayWords('2026-09-23', now)).toBe('Wed 23 Sep');
    expect(format.dayWords('2027-11-01', now)).toBe('Mon 1 Nov 2027');
    expect(format.dayWords('', now)).toBe('');
  });
  it('count minutes across midnight', () => {
    expect(format.minutesBetween('2026-09-16T23:30', '2026-09-17T00:15')).toBe(45);
  });
});

describe('a timer', () => {
  it('counts down to zero and then up', () => {
    expect(format.countdown(3909)).toBe('1:05:09');
    expect(format.countdown(754.2)).toBe('12:35');
    expect(format.countdown(0)).toBe('0:00');
    expect(format.countdown(-61)).toBe('+1:01');
  });
  it('has its length said in words', () => {
    expect(format.lengthWords(30)).toBe('30 minutes');
    expect(format.lengthWords(61)).toBe('1 hour 1 minute');
    expect(format.lengthWords(120)).toBe('2 hours');
  });
});

describe('amounts', () => {
  it('are rounded as a person would say them', () => {
    expect(format.massWords(45.359237, 'us')).toBe('100 lb');
    expect(format.massWords(1, 'us')).toBe('2.2 lb');
    expect(format.massWords(0.2, 'us')).toBe('7 oz');
    expect(format.massWords(0.42, 'metric')).toBe('400 g');
    expect(format.massWords(12.4, 'metric')).toBe('12 kg');
  });
  it('come back from a field as kilograms', () => {
    expect(format.toKilograms(10, 'us')).toBeCloseTo(4.5359237, 7); // the pound is exactly 0.45359237 kg
    expect(format.fromKilograms(4.5359237, 'us')).toBe(10);
    expect(format.toCelsius(format.fromCelsius(-18, 'us'), 'us')).toBeCloseTo(-17.8, 1);
  });
  it('are read with a comma or a point, and refused when they are no amount', () => {
    expect(format.readNumber(' 2,5 ')).toBe(2.5);
    expect(format.readNumber('')).toBeNull();
    expect(format.readNumber('two')).toBeNull();
    expect(format.readNumber('-1')).toBeNull();
  });
});
