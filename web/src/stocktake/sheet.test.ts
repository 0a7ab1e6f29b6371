import { expect, it } from 'vitest';

import { larder } from '../../tests/fixtures';
import type { Entry } from '../shared/entries';
import { answered, draftsAgain, madeSure, nextLine, seenAgain, sheetOf } from './sheet';

const [shelf] = larder.shelves;
if (!shelf) throw new Error('no shelf');
const entry = { id: 'a'.repeat(32), happened: '2026-09-16T13:00:00Z' };

it('asks line after line, and a skipped one no more', () => {
  const start = sheetOf(shelf);
  const first = start.lines[0]?.parcel ?? '';
  expect(nextLine(start)).toBe(0);
  expect(nextLine(answered(start, first, 3, entry))).toBe(1);
  expect(nextLine(answered(start, first, null, null))).toBe(1);
});

it('records again, under the same id, only what is not known to be kept', () => {
  const sheet = sheetOf(shelf);
  const parcel = sheet.lines[0]?.parcel ?? '';
  const said = answered(sheet, parcel, 0, entry);
  const draft = { kind: 'counted', what: { parcel, packs: 0 }, ...entry };
  expect(draftsAgain(said, [])).toEqual([draft]);
  expect(draftsAgain(said, [draft as unknown as Entry])).toEqual([]);
  expect(draftsAgain(madeSure(said, entry.id), [])).toEqual([]);
  expect(draftsAgain(sheet, [])).toEqual([]);
});

it('asks with what the book has now, where nobody has answered', () => {
  const sheet = answered(sheetOf(shelf), shelf.packs[0]?.parcel ?? '', 3, entry);
  const fewer = { ...shelf, packs: shelf.packs.map((pack) => ({ ...pack, packs: pack.packs - 1 })) };
  const seen = seenAgain(sheet, { ...larder, shelves: [fewer] });
  expect(seen.lines.map((line) => line.was)).toEqual(
    shelf.packs.map(({ packs }, i) => (i === 0 || packs === 1 ? packs : packs - 1)),
  );
  expect(seenAgain(sheet, larder)).toBe(sheet);
  expect(seenAgain(sheet, { ...larder, shelves: [] })).toBe(sheet);
});
