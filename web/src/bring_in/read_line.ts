import type { BringInDraft, CropChoice, Snapshot } from '../api/types';
import { massWords, toKilograms } from '../shared/format';
import { t } from '../shared/texts';

/** What could be made out of a line without the household's help; empty and zero where nothing was. */
export interface Guess {
  crop: CropChoice | null;
  count: number;
  container: string;
  kg: number;
  condition: string;
  place: string;
  /** The amount in a person's words, where it was tapped together. */
  said?: string;
}

const weightWords: Record<string, number> = {
  lb: toKilograms(1, 'us'),
  lbs: toKilograms(1, 'us'),
  pound: toKilograms(1, 'us'),
  pounds: toKilograms(1, 'us'),
  oz: toKilograms(1 / 16, 'us'),
  kg: 1,
  g: 0.001,
};
/** Short forms of containers as people write them (common practice). */
const shortWords: Record<string, string> = { bu: 'bushel', pk: 'peck' };

/** "five gallon bucket" for the key "five_gallon_bucket". */
export const containerWords = (key: string): string => key.replaceAll('_', ' ');

const singular = (word: string): string => word.replace(/ies$/, 'y').replace(/(?<=[^s])s$/, '');
const plain = (text: string): string => text.toLowerCase().replaceAll(/[^a-z0-9./ -]/g, ' ');

/**
 * Reads "2 bu pears, firm, in the pantry" where there is no connection: fills the three taps as far as it can. The
 * household reads lines better; this only knows the names in the snapshot.
 */
export function guessLine(line: string, snapshot: Snapshot): Guess {
  const text = ` ${plain(line).trim()} `;
  const words = text.trim().split(/\s+/).map(singular);
  const joined = ` ${words.join(' ')} `;
  const named = <T extends { name: string }>(all: T[]): T | null =>
    all
      .filter((one) => joined.includes(` ${plain(one.name).trim().split(/\s+/).map(singular).join(' ')} `))
      .sort((a, b) => b.name.length - a.name.length)[0] ?? null;

  const crop = named(snapshot.crops);
  const place = named(snapshot.places);
  const condition =
    [...snapshot.conditions].sort((a, b) => b.length - a.length).find((word) => text.includes(word)) ?? '';
  const { count, container, kg } = amountOf(words, crop);
  return { crop, count, container, kg, condition, place: place?.key ?? '' };
}

function amountOf(words: string[], crop: CropChoice | null): { count: number; container: string; kg: number } {
  for (const [i, word] of words.entries()) {
    const glued = /^(\d+(?:\.\d+)?)([a-z]+)$/.exec(word);
    const count = glued ? Number(glued[1]) : countOf(word);
    if (!Number.isFinite(count) || count <= 0) continue;
    const after = words.slice(i + 1).filter((one) => one !== 'a' && one !== 'an' && one !== 'of');
    const unit = glued ? (glued[2] ?? '') : (after[0] ?? '');
    const weight = weightWords[unit] ?? weightWords[`${unit}s`];
    if (weight) return { count, container: '', kg: count * weight };
    const container = shortWords[unit] ?? unit;
    const at = crop?.containers.findIndex((key) => containerWords(key).split(' ').at(-1) === container) ?? -1;
    if (crop && at >= 0) {
      return { count, container: crop.containers[at] ?? '', kg: count * (crop.container_kg[at] ?? 0) };
    }
    return { count, container: '', kg: 0 };
  }
  return { count: 0, container: '', kg: 0 };
}

function countOf(word: string): number {
  const half = /^(\d+)\/(\d+)$/.exec(word);
  if (half) return Number(half[1]) / Number(half[2]);
  return /^\d+(\.\d+)?$/.test(word) ? Number(word) : word === 'half' ? 0.5 : NaN;
}

/** A draft from the three taps, in the words of the household's own. */
export function draftOf(guess: Guess, snapshot: Snapshot): BringInDraft | null {
  const { crop } = guess;
  const place = snapshot.places.find((one) => one.key === guess.place);
  if (!crop || guess.kg <= 0 || guess.condition === '' || !place) return null;
  const { units, now } = snapshot.household;
  const weighed = guess.container === '';
  return {
    crop: crop.key,
    crop_name: crop.name,
    form: 'fresh',
    amount_said: guess.said
      ? guess.said
      : weighed
        ? massWords(guess.kg, units)
        : `${guess.count} ${containerWords(guess.container)}${guess.count > 1 ? 's' : ''}`,
    condition: guess.condition,
    place: place.key,
    place_name: place.name,
    mass_kg: guess.kg,
    mass_words: massWords(guess.kg, units),
    how_found: weighed
      ? ''
      : t.bringIn.byContainer(containerWords(guess.container), massWords(guess.kg / guess.count, units)),
    when: now,
  };
}
