import type { LarderShelf, LarderView } from '../api/types';
import type { Draft, Entry } from '../shared/entries';

/** One kind of pack on the shelf being counted. */
export interface SheetLine {
  parcel: string;
  name: string;
  pack: string;
  code: string;
  /** As the book had it when this was answered, or as it has it now. */
  was: number;
  /** As counted; null while nobody has answered. */
  packs: number | null;
  skipped: boolean;
  /** The entry that says so. Kept here before it is recorded, so that it can be recorded again, once. */
  entry: { id: string; happened: string } | null;
  /** False until the entry is known to be in the outbox or in the household file. */
  sure: boolean;
}

/** A stocktake of one place: its lines are fixed when it begins, so that what changes meanwhile moves none. */
export interface Sheet {
  place: string;
  placeKey: string;
  lines: SheetLine[];
}

export function sheetOf(shelf: LarderShelf): Sheet {
  const lines = shelf.packs.map(({ parcel, name, pack, code, packs }) => ({
    parcel,
    name,
    pack,
    code,
    was: packs,
    packs: null,
    skipped: false,
    entry: null,
    sure: false,
  }));
  return { place: shelf.place, placeKey: shelf.place_key, lines };
}

/** What nobody has answered yet as the book now has it: the sheet may have begun from an older look. */
export function seenAgain(sheet: Sheet, larder: LarderView): Sheet {
  const now = new Map(larder.shelves.flatMap((shelf) => shelf.packs.map(({ parcel, packs }) => [parcel, packs])));
  const was = (line: SheetLine): number => (line.packs === null && now.get(line.parcel)) || line.was;
  if (sheet.lines.every((line) => was(line) === line.was)) return sheet;
  return { ...sheet, lines: sheet.lines.map((line) => ({ ...line, was: was(line) })) };
}

/** A line as answered; `packs` null where it is passed over. */
export function answered(sheet: Sheet, parcel: string, packs: number | null, entry: SheetLine['entry']): Sheet {
  const change = (line: SheetLine): SheetLine =>
    packs === null ? { ...line, skipped: true } : { ...line, packs, skipped: false, entry, sure: false };
  return { ...sheet, lines: sheet.lines.map((line) => (line.parcel === parcel ? change(line) : line)) };
}

/** An answer is known to be kept. */
export function madeSure(sheet: Sheet, id: string): Sheet {
  return { ...sheet, lines: sheet.lines.map((line) => (line.entry?.id === id ? { ...line, sure: true } : line)) };
}

/** What the page was killed over: recorded again under the same ids, which the household stores once. */
export function draftsAgain(sheet: Sheet, waiting: Entry[]): Draft[] {
  const there = new Set(waiting.map((entry) => entry.id));
  return sheet.lines.flatMap(({ parcel, packs, entry, sure }): Draft[] =>
    packs === null || !entry || sure || there.has(entry.id)
      ? []
      : [{ kind: 'counted', what: { parcel, packs }, ...entry }],
  );
}

/** Index of the line to ask; their number when all are answered or skipped. */
export function nextLine(sheet: Sheet): number {
  const at = sheet.lines.findIndex((line) => line.packs === null && !line.skipped);
  return at < 0 ? sheet.lines.length : at;
}

const kKept = 'stillroom.stocktake';

export function keptSheet(): Sheet | null {
  try {
    return JSON.parse(localStorage.getItem(kKept) ?? 'null') as Sheet | null;
  } catch {
    return null;
  }
}

export function keepSheet(sheet: Sheet | null): void {
  if (sheet) localStorage.setItem(kKept, JSON.stringify(sheet));
  else localStorage.removeItem(kKept);
}
