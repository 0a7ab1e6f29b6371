import { instant } from './entries';

const stamp = (milliseconds: number): string => instant(milliseconds).replaceAll(/[-:]/g, '');

const escaped = (text: string): string =>
  text.replaceAll('\\', '\\\\').replaceAll(';', '\\;').replaceAll(',', '\\,').replaceAll('\n', '\\n');

/** What a calendar is told of a timer. */
interface Alarm {
  id: string;
  name: string;
  /** Milliseconds, this device's clock. */
  deadline: number;
}

const eventOf = ({ id, name, deadline }: Alarm): string[] => [
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
];

/**
 * Timers as calendar events with an alarm each (RFC 5545), as a `data:` address to save. Only its own calendar wakes
 * a sleeping phone: a page cannot. Saved again, an event replaces the one of the same timer.
 */
export function calendarFile(timers: Alarm[]): string {
  const lines = [
    'BEGIN:VCALENDAR',
    'VERSION:2.0',
    'PRODID:-//Stillroom//Timer//EN',
    ...timers.flatMap(eventOf),
    'END:VCALENDAR',
    '',
  ];
  return `data:text/calendar;charset=utf-8,${encodeURIComponent(lines.join('\r\n'))}`;
}
