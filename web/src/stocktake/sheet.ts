import type { LarderShelf } from '../api/types';
import type { Entry } from '../shared/entries';

/** One kind of pack on the shelf being counted. */
export interface SheetLine {
  parcel: string;
  name: string;
  pack: string;
  code: string;
  /** As the book had it when the counting began. */
  was: number;
  /** As counted; null while nobody has answered. */
  packs: number | null;
  skipped: boolean;
}

/** A stocktake of one place: fixed when it begins, so that what changes meanwhile moves no line. */
export interface Sheet {
  place: string;
  placeKey: string;
  /** UTC second from which answers of this sheet can be. */
  since: string;
  lines: SheetLine[];
}

export function sheetOf(shelf: LarderShelf, since: string): Sheet {
  const lines = shelf.packs.map(({ parcel, name, pack, code, packs }) => ({
    parcel,
    name,
    pack,
    code,
    was: packs,
    packs: null,
    skipped: false,
  }));
  return { place: shelf.place, placeKey: shelf.place_key, since, lines };
}

/** The sheet with what this phone still holds in its outbox: an answer is kept there first, and here after. */
export function withWaiting(sheet: Sheet, waiting: Entry[]): Sheet {
  const said = new Map<string, number>();
  for (const entry of waiting) {
    if (entry.kind !== 'counted' || entry.happened < sheet.since) continue;
    const { parcel, packs } = entry.what as { parcel: string; packs: number };
    said.set(parcel, packs);
  }
  return {
    ...sheet,
    lines: sheet.lines.map((line) =>
      line.packs === null ? { ...line, packs: said.get(line.parcel) ?? null } : line,
    ),
  };
}

export function answered(sheet: Sheet, parcel: string, packs: number | null): Sheet {
  const lines = sheet.lines.map((line) =>
    line.parcel === parcel ? { ...line, packs: packs ?? line.packs, skipped: packs === null } : line,
  );
  return { ...sheet, lines };
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
