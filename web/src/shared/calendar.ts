import { instant } from './entries';

const stamp = (milliseconds: number): string => instant(milliseconds).replaceAll(/[-:]/g, '');

const escaped = (text: string): string =>
  text.replaceAll('\\', '\\\\').replaceAll(';', '\\;').replaceAll(',', '\\,').replaceAll('\n', '\\n');

/**
 * A timer as a calendar event with an alarm (RFC 5545), as a `data:` address to save. Only its own calendar wakes a
 * sleeping phone: a page cannot.
 */
export function calendarFile(id: string, name: string, deadline: number): string {
  const lines = [
    'BEGIN:VCALENDAR',
    'VERSION:2.0',
    'PRODID:-//Stillroom//Timer//EN',
    'BEGIN:VEVENT',
    `UID:${id}@stillroom`,
    `DTSTAMP:${stamp(deadline)}`,
    `DTSTART:${stamp(deadline)}`,
    `DTEND:${stamp(deadline + 60_000)}`,
    `SUMMARY:${escaped(name)}`,
    'BEGIN:VALARM',
    'ACTION:DISPLAY',
    `DESCRIPTION:${escaped(name)}`,
    'TRIGGER:PT0S',
    'END:VALARM',
    'END:VEVENT',
    'END:VCALENDAR',
    '',
  ];
  return `data:text/calendar;charset=utf-8,${encodeURIComponent(lines.join('\r\n'))}`;
}
