import { expect, test } from 'vitest';

import { makeEntry } from '../shared/entries';
import { freeCode } from './packing';

test('a code that stands on a label already is not written on another batch’s jars', () => {
  const codes = ['00007-7', '00007-7', '00008-8'];
  expect(freeCode(codes, [])).toBe('00007-7');
  const what = { batch: 'b', parcel: 'p', food: 'pear', form: '', pack: '', packs: 1, place: '', code: '00007-7' };
  expect(freeCode(codes, [{ entry: makeEntry({ kind: 'packed', what }, '', 0), words: '' }])).toBe('00008-8');
});
