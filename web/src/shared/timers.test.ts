import { describe, expect, it } from 'vitest';

import { calendarFile } from './calendar';
import { freshKey } from '../settings/keys';
import { spokenMark } from './timers';

const timer = { id: 't', name: 'Process', batch: 'b', batchName: '', note: '', deadline: 600_000 };

describe('a timer', () => {
  it('is spoken of at five minutes, at one, and when it is up, and not in between', () => {
    expect(spokenMark(timer, 299_000, 300_000)).toBe('Process: 5 minutes left.');
    expect(spokenMark(timer, 301_000, 302_000)).toBe('');
    expect(spokenMark(timer, 539_000, 541_000)).toBe('Process: 1 minute left.');
    expect(spokenMark(timer, 599_000, 700_000)).toBe('Process: time is up.');
  });
  it('can be put in a calendar that wakes a sleeping phone', () => {
    const text = decodeURIComponent(
      calendarFile('t', 'Process, 7 jars', Date.parse('2026-09-16T12:40:00Z')).split(',').slice(1).join(','),
    );
    expect(text).toContain('DTSTART:20260916T124000Z\r\n');
    expect(text).toContain('SUMMARY:Process\\, 7 jars\r\n');
    expect(text).toContain('BEGIN:VALARM\r\n');
  });
});

describe('a key for something new', () => {
  it('comes from the name and is never taken twice', () => {
    expect(freshKey('Aunt Jo', [])).toBe('aunt_jo');
    expect(freshKey('Aunt Jo', ['aunt_jo'])).toBe('aunt_jo_2');
    expect(freshKey('!!', [])).toBe('new');
  });
});
