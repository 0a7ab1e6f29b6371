/**
 * The household's clock. A phone's own may be wrong, and a demo household lives on a day of its own: entries are made
 * by the household's now, and what it says is brought to this device's clock only for drawing.
 */

const kKept = 'stillroom.clock';
let ahead: number | null = null;

/** Milliseconds by which the household is ahead of this device; kept, so that it holds without a connection. */
function offset(): number {
  ahead ??= Number(localStorage.getItem(kKept) ?? 0) || 0;
  return ahead;
}

/** The household said `nowUtc` when this device's clock stood at `at`. */
export function setClock(nowUtc: string, at: number): void {
  const moment = Date.parse(nowUtc);
  if (Number.isNaN(moment)) return;
  ahead = moment - at;
  localStorage.setItem(kKept, String(ahead));
}

export const householdNow = (): number => Date.now() + offset();
/** A moment of the household, on this device's clock. */
export const onThisDevice = (householdMs: number): number => householdMs - offset();
