import type { BatchView, DayView, LarderView, LotView, Snapshot } from '../api/types';
import type { Entry } from './entries';
import type { Units } from './format';
import { batchWithPending, dayWithPending, larderWithPending, lotWithPending, type PlaceNames } from './pending';
import { useDay, usePending, useView, type Seen } from './views';

/** The looks of the household with what was said on this device since drawn in. */

interface Names {
  places: PlaceNames;
  crops: PlaceNames;
}

/** What places and crops are called; asked for only where something is to be drawn. */
function useNames(wanted: boolean): Names {
  const snapshot = useView<Snapshot>(wanted ? '/snapshot' : '').data;
  const named = (all: { key: string; name: string }[] = []): PlaceNames =>
    Object.fromEntries(all.map(({ key, name }) => [key, name]));
  return { places: named(snapshot?.places), crops: named(snapshot?.crops) };
}

function useDrawn<T>(seen: Seen<T>, draw: (data: T, pending: Entry[], names: Names) => T): Seen<T> {
  const pending = usePending(seen);
  const names = useNames(pending.length > 0);
  if (seen.data === null || pending.length === 0) return seen;
  return { ...seen, data: draw(seen.data, pending, names) };
}

export const useDrawnDay = (): Seen<DayView> =>
  useDrawn(useDay(), (day, pending, names) => dayWithPending(day, pending, names.places, names.crops));

export const useDrawnLarder = (): Seen<LarderView> =>
  useDrawn(useView<LarderView>('/larder'), (view, pending, names) => larderWithPending(view, pending, names.places));

export const useDrawnLot = (id: string, units: Units): Seen<LotView> =>
  useDrawn(useView<LotView>(`/lots/${id}`), (view, pending, names) =>
    lotWithPending(view, pending, units, names.places),
  );

export const useDrawnBatch = (id: string): Seen<BatchView> =>
  useDrawn(useView<BatchView>(`/batches/${id}`), (view, pending) => batchWithPending(view, pending));
