import { describe, expect, it } from 'vitest';

import { calendarFile } from './calendar';
import { freshKey } from '../settings/keys';
import { ringsBetween, spokenMark } from './timers';

const timer = { id: 't', name: 'Process', batch: 'b', batchName: '', note: '', deadline: 600_000 };

describe('a timer', () => {
  it('is spoken of at five minutes, at one, and when it is up, and not in between', () => {
    expect(spokenMark(timer, 299_000, 300_000)).toBe('Process: 5 minutes left.');
    expect(spokenMark(timer, 301_000, 302_000)).toBe('');
    expect(spokenMark(timer, 539_000, 541_000)).toBe('Process: 1 minute left.');
    expect(spokenMark(timer, 599_000, 700_000)).toBe('Process: time is up.');
  });
  it('rings when it is up, and again until it is stopped', () => {
    expect(ringsBetween(timer, 598_000, 599_999)).toBe(false);
    expect(ringsBetween(timer, 599_500, 600_500)).toBe(true);
    expect(ringsBetween(timer, 600_500, 601_500)).toBe(false);
    expect(ringsBetween(timer, 619_500, 620_500)).toBe(true);
    expect(ringsBetween(timer, 7_000_000, 7_100_000)).toBe(true);
  });
  it('can be put in a calendar that wakes a sleeping phone, with every other that runs', () => {
    const at = Date.parse('2026-09-16T12:40:00Z');
    const file = calendarFile([
      { id: 't', name: 'Process, 7 jars', deadline: at },
      { id: 'u', name: 'Soak', deadline: at + 600_000 },
    ]);
    const text = decodeURIComponent(file.split(',').slice(1).join(','));
    expect(text).toContain('DTSTART:20260916T124000Z\r\n');
    expect(text).toContain('SUMMARY:Process\\, 7 jars\r\n');
    expect(text).toContain('DTSTART:20260916T125000Z\r\n');
    expect(text.match(/BEGIN:VALARM\r\n/g)).toHaveLength(2);
    expect(text.match(/END:VCALENDAR\r\n/g)).toHaveLength(1);
  });
});

describe('a key for something new', () => {
  it('comes from the name and is never taken twice', () => {
    expect(freshKey('Aunt Jo', [])).toBe('aunt_jo');
    expect(freshKey('Aunt Jo', ['aunt_jo'])).toBe('aunt_jo_2');
    expect(freshKey('!!', [])).toBe('new');
  });
});
