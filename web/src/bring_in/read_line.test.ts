import { describe, expect, it } from 'vitest';

import { snapshot as plain } from '../../tests/fixtures';
import { draftOf, guessLine } from './read_line';

const snapshot = {
  ...plain,
  crops: plain.crops.map((crop) => ({
    ...crop,
    containers: ['bushel', 'five_gallon_bucket'],
    container_kg: [22.7, 11],
  })),
};

describe('a line read without a connection', () => {
  it('gives crop, amount, condition and place by the names in the snapshot', () => {
    const guess = guessLine('2 bu pears, firm, in the cellar', snapshot);
    expect(guess).toMatchObject({ count: 2, container: 'bushel', kg: 45.4, condition: 'firm', place: 'cellar' });
    expect(guess.crop?.name).toBe('pear');
  });
  it('takes the longer name and the longer condition', () => {
    const guess = guessLine('3 lb acorn squash, going over, kitchen counter', snapshot);
    expect(guess.crop?.name).toBe('acorn squash');
    expect(guess.condition).toBe('going over');
    expect(guess.kg).toBeCloseTo(1.36, 2);
  });
  it('reads a half', () => {
    expect(guessLine('half a bushel of apples', snapshot).count).toBe(0.5);
    expect(guessLine('1/2 bu apples', snapshot).kg).toBeCloseTo(11.35, 2);
  });
  it('does not take the size of a bucket for their number', () => {
    expect(guessLine('5 gallon bucket of apples', snapshot).kg).toBe(0);
  });
  it('makes no draft of half a sentence', () => {
    expect(draftOf(guessLine('pears', snapshot), snapshot)).toBeNull();
    const draft = draftOf(guessLine('2 bu pears, firm, cellar', snapshot), snapshot);
    expect(draft).toMatchObject({
      crop: 'pear',
      amount_said: '2 bushels',
      mass_words: '100 lb',
      place_name: 'cellar',
    });
  });
});
