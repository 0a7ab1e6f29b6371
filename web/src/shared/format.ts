import { t } from './texts';

/** Pure words for numbers and times. Local times are "YYYY-MM-DDThh:mm" in the household's zone. */

export type Units = 'us' | 'metric';

const kKilogramsPerPound = 0.45359237;
const kMetresPerFoot = 0.3048;
const months = ['Jan', 'Feb', 'Mar', 'Apr', 'May', 'Jun', 'Jul', 'Aug', 'Sep', 'Oct', 'Nov', 'Dec'];

/** Days since 1970-01-01 of a local date or time; NaN when it is not one. */
export function dayNumber(local: string): number {
  const match = /^(\d{4})-(\d{2})-(\d{2})/.exec(local);
  if (!match) return NaN;
  return Date.UTC(Number(match[1]), Number(match[2]) - 1, Number(match[3])) / 86_400_000;
}

/** Minutes since midnight; NaN when the text carries no time. */
export function minuteOfDay(local: string): number {
  const match = /T(\d{2}):(\d{2})/.exec(local);
  return match ? Number(match[1]) * 60 + Number(match[2]) : NaN;
}

/** Minutes from `from` to `to`, both local. Ignores a clock change between them: good enough for drawing. */
export function minutesBetween(from: string, to: string): number {
  return (dayNumber(to) - dayNumber(from)) * 1440 + minuteOfDay(to) - minuteOfDay(from);
}

/** "6:30 am" or "06:30". */
export function timeWords(local: string, units: Units): string {
  const minutes = minuteOfDay(local);
  return Number.isNaN(minutes) ? '' : clockWords(minutes, units);
}

export function clockWords(minutes: number, units: Units): string {
  const hour = Math.floor(minutes / 60) % 24;
  const rest = String(Math.round(minutes) % 60).padStart(2, '0');
  if (units === 'metric') return `${String(hour).padStart(2, '0')}:${rest}`;
  return `${hour % 12 === 0 ? 12 : hour % 12}:${rest} ${hour < 12 ? 'am' : 'pm'}`;
}

/** The end of what began at `start`: the time, with the day when it is another one ("the next day 7:30 am"). */
export function endWords(start: string, end: string, units: Units): string {
  const days = dayNumber(end) - dayNumber(start);
  if (days === 1) return `the next day ${timeWords(end, units)}`;
  return days === 0 ? timeWords(end, units) : whenWords(end, start, units);
}

/** "today", "tomorrow", "Saturday" within a week, else "Sat 19 Sep". */
export function dayWords(local: string, now: string): string {
  const day = dayNumber(local);
  if (Number.isNaN(day)) return '';
  const ahead = day - dayNumber(now);
  if (ahead === 0) return 'today';
  if (ahead === 1) return 'tomorrow';
  if (ahead === -1) return 'yesterday';
  const weekday = t.weekdays[(day + 3) % 7] ?? ''; // 1970-01-01 was a Thursday
  if (ahead > 1 && ahead < 7) return weekday;
  const date = new Date(day * 86_400_000);
  const short = `${weekday.slice(0, 3)} ${date.getUTCDate()} ${months[date.getUTCMonth()] ?? ''}`;
  return Math.abs(ahead) > 300 ? `${short} ${date.getUTCFullYear()}` : short;
}

/** "today 6:30 am", "Saturday 9:00 am". */
export function whenWords(local: string, now: string, units: Units): string {
  return [dayWords(local, now), timeWords(local, units)].filter((part) => part !== '').join(' ');
}

/** "14 Sep 2026", for things that are read months later. */
export function dateWords(local: string): string {
  const day = dayNumber(local);
  if (Number.isNaN(day)) return local;
  const date = new Date(day * 86_400_000);
  return `${date.getUTCDate()} ${months[date.getUTCMonth()] ?? ''} ${date.getUTCFullYear()}`;
}

/** Left on a timer: "1:05:09", "12:34", "0:07"; past due counts up with a plus sign. */
export function countdown(seconds: number): string {
  const past = seconds < 0;
  const whole = past ? Math.floor(-seconds) : Math.ceil(seconds);
  const h = Math.floor(whole / 3600);
  const m = Math.floor((whole % 3600) / 60);
  const s = String(whole % 60).padStart(2, '0');
  return `${past ? '+' : ''}${h > 0 ? `${h}:${String(m).padStart(2, '0')}` : m}:${s}`;
}

/** Spoken length: "1 hour 5 minutes", "25 minutes". */
export function lengthWords(minutes: number): string {
  const whole = Math.round(minutes);
  const h = Math.floor(whole / 60);
  const m = whole % 60;
  const hours = h === 0 ? '' : h === 1 ? '1 hour' : `${h} hours`;
  const rest = m === 0 && h > 0 ? '' : m === 1 ? '1 minute' : `${m} minutes`;
  return [hours, rest].filter((part) => part !== '').join(' ');
}

/** Hours as a person says them: "4 h", "40 min". */
export function hoursWords(hours: number): string {
  if (hours <= 0) return 'none';
  return hours < 1 ? `${Math.round(hours * 12) * 5} min` : `${Math.round(hours * 2) / 2} h`;
}

/** A mass rounded as a person would say it. */
export function massWords(kg: number, units: Units): string {
  if (units === 'metric') {
    return kg < 1 ? `${Math.round(kg * 20) * 50} g` : `${trim(kg < 10 ? kg.toFixed(1) : kg.toFixed(0))} kg`;
  }
  const lb = kg / kKilogramsPerPound;
  return lb < 1 ? `${Math.round(lb * 16)} oz` : `${trim(lb < 10 ? lb.toFixed(1) : lb.toFixed(0))} lb`;
}

export const massUnit = (units: Units): string => (units === 'us' ? 'lb' : 'kg');
/** The number a person types, as kilograms. */
export const toKilograms = (amount: number, units: Units): number =>
  units === 'us' ? amount * kKilogramsPerPound : amount;
/** Kilograms as the number shown in a field, to two places at most. */
export const fromKilograms = (kg: number, units: Units): number =>
  Math.round((units === 'us' ? kg / kKilogramsPerPound : kg) * 100) / 100;

export const toCelsius = (value: number, units: Units): number => (units === 'us' ? (value - 32) / 1.8 : value);
export const fromCelsius = (celsius: number, units: Units): number =>
  Math.round(units === 'us' ? celsius * 1.8 + 32 : celsius);
export const feetToMetres = (feet: number): number => feet * kMetresPerFoot;
export const metresToFeet = (metres: number): number => metres / kMetresPerFoot;

/** Packs as a count: "3", "2.5". */
export function countWords(packs: number): string {
  return trim((Math.round(packs * 10) / 10).toFixed(1));
}

/** A number field's text: empty, not a number or negative gives null. A comma is taken as a decimal point. */
export function readNumber(text: string): number | null {
  const cleaned = text.trim().replace(',', '.');
  if (cleaned === '') return null;
  const value = Number(cleaned);
  return Number.isFinite(value) && value >= 0 ? value : null;
}

/** "a, b and c". */
export function listWords(parts: string[]): string {
  if (parts.length < 2) return parts.join('');
  return `${parts.slice(0, -1).join(', ')} and ${parts[parts.length - 1] ?? ''}`;
}

function trim(text: string): string {
  return text.replace(/\.0$/, '');
}
