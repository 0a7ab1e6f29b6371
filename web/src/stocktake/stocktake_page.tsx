import { useEffect, useRef, useState } from 'preact/hooks';

import type { LarderView } from '../api/types';
import { householdNow } from '../shared/clock';
import { instant, newId } from '../shared/entries';
import { countWords } from '../shared/format';
import { Heading, Loaded } from '../shared/page';
import { useDrawnLarder } from '../shared/drawn';
import { t } from '../shared/texts';
import { sayNo } from '../shared/toast';
import { outbox, refresh } from '../shared/views';
import {
  answered,
  keepSheet,
  keptSheet,
  draftsAgain,
  madeSure,
  nextLine,
  seenAgain,
  sheetOf,
  type Sheet,
} from './sheet';
import './stocktake.css';

/** The shelves counted one pack after another, with one thumb; every answer is kept at once. */
export function StocktakePage() {
  const seen = useDrawnLarder();
  const [sheet, setSheet] = useState<Sheet | null>(null);
  return (
    <div class="stocktake">
      <Heading title={sheet ? t.stocktake.sheet(sheet.place) : t.stocktake.heading} />
      {sheet ? (
        <Counting start={sheet} larder={seen.data} onEnd={() => setSheet(null)} />
      ) : (
        <Loaded seen={seen}>{(view) => <Shelves larder={view} onSheet={setSheet} />}</Loaded>
      )}
    </div>
  );
}

function Shelves({ larder, onSheet }: { larder: LarderView; onSheet: (sheet: Sheet) => void }) {
  const begun = keptSheet();
  const shelves = larder.shelves.filter((shelf) => shelf.packs.length > 0);
  const goOn = async (sheet: Sheet): Promise<void> => {
    const all = (await outbox.waiting()).map((one) => one.entry);
    const again = draftsAgain(sheet, all);
    if (again.length > 0) await outbox.record(again, t.stocktake.sheet(sheet.place));
    onSheet(sheet);
  };
  if (shelves.length === 0 && !begun) return <p>{t.stocktake.empty}</p>;
  return (
    <>
      {begun && (
        <button type="button" class="main" onClick={() => void goOn(begun)}>
          {t.stocktake.goOn(begun.place)}
        </button>
      )}
      <h2>{t.stocktake.choose}</h2>
      <ul class="shelf-choice">
        {shelves.map((shelf) => (
          <li key={shelf.place_key}>
            <button
              type="button"
              onClick={() => {
                const sheet = sheetOf(shelf);
                keepSheet(sheet);
                onSheet(sheet);
              }}
            >
              {shelf.place} <span class="soft">{t.stocktake.packs(shelf.packs.length)}</span>
            </button>
          </li>
        ))}
      </ul>
    </>
  );
}

interface CountingProps {
  start: Sheet;
  larder: LarderView | null;
  onEnd: () => void;
}

function Counting({ start, larder, onEnd }: CountingProps) {
  const [sheet, setSheet] = useState(start);
  const [looking, setLooking] = useState<number | null>(null);
  const latest = useRef(start);
  const ended = useRef(false);
  const at = looking ?? nextLine(sheet);
  const line = sheet.lines[at];
  const change = (next: Sheet): void => {
    latest.current = next;
    keepSheet(next);
    setSheet(next);
  };
  useEffect(() => {
    const next = larder ? seenAgain(latest.current, larder) : latest.current;
    if (next !== latest.current) change(next);
  }, [larder]);
  const answer = (parcel: string, name: string, packs: number): void => {
    const entry = { id: newId(), happened: instant(householdNow()) };
    change(answered(latest.current, parcel, packs, entry));
    setLooking(null);
    const said = t.stocktake.counted(name, countWords(packs));
    void outbox.record([{ kind: 'counted', what: { parcel, packs }, ...entry }], said).then((outcome) => {
      if (outcome.how === 'refused') sayNo(outcome.refusal.message, outcome.refusal.instead);
      if (!ended.current) change(madeSure(latest.current, entry.id));
    });
  };
  return (
    <>
      {line ? (
        <Ask
          key={`${line.parcel} ${line.was}`}
          name={line.name}
          pack={line.pack}
          code={line.code}
          was={line.packs ?? line.was}
          book={line.was}
          progress={t.stocktake.progress(at + 1, sheet.lines.length)}
          share={at / sheet.lines.length}
          onAnswer={(packs) => answer(line.parcel, line.name, packs)}
          onSkip={() => {
            change(answered(latest.current, line.parcel, null, null));
            setLooking(null);
          }}
          onBack={at > 0 ? () => setLooking(at - 1) : null}
        />
      ) : (
        <Differed
          sheet={sheet}
          onAgain={() => {
            const lines = sheet.lines.map((one) => ({ ...one, skipped: false }));
            change({ ...sheet, lines });
          }}
          onEnd={() => {
            ended.current = true;
            keepSheet(null);
            refresh();
            onEnd();
          }}
        />
      )}
      <PaperSheet sheet={sheet} />
    </>
  );
}

interface AskProps {
  name: string;
  pack: string;
  code: string;
  was: number;
  book: number;
  progress: string;
  share: number;
  onAnswer: (packs: number) => void;
  onSkip: () => void;
  onBack: (() => void) | null;
}

function Ask(props: AskProps) {
  const [packs, setPacks] = useState(props.was);
  const ref = useRef<HTMLHeadingElement>(null);
  // Where a reader goes on; the buttons keep the place under the thumb.
  useEffect(() => ref.current?.focus({ preventScroll: true }), []);
  return (
    <section class="stocktake-ask" aria-labelledby="ask">
      <p class="soft">{props.progress}</p>
      <progress value={props.share} max={1} aria-label={t.stocktake.heading} />
      <h2 id="ask" ref={ref} tabIndex={-1}>
        {props.name}
      </h2>
      <p>{[props.pack, props.code].filter((part) => part !== '').join(', ')}</p>
      <p class="here" aria-live="polite">
        {t.stocktake.here(countWords(packs))}
      </p>
      {packs !== props.book && <p class="soft">{t.stocktake.says(countWords(props.book))}</p>}
      <div class="thumb-bar">
        <button type="button" aria-label={t.stocktake.minus} onClick={() => setPacks(Math.max(0, packs - 1))}>
          −
        </button>
        <button type="button" aria-label={t.stocktake.plus} onClick={() => setPacks(packs + 1)}>
          +
        </button>
        <button type="button" onClick={() => props.onAnswer(0)}>
          {t.stocktake.none}
        </button>
        <button type="button" onClick={props.onSkip}>
          {t.stocktake.skip}
        </button>
        <button type="button" class="main" onClick={() => props.onAnswer(packs)}>
          {t.stocktake.yes(countWords(packs))}
        </button>
      </div>
      <p>
        <button type="button" class="quiet" disabled={!props.onBack} onClick={() => props.onBack?.()}>
          {t.stocktake.back}
        </button>
      </p>
    </section>
  );
}

function Differed({ sheet, onAgain, onEnd }: { sheet: Sheet; onAgain: () => void; onEnd: () => void }) {
  const other = sheet.lines.filter((line) => line.packs !== null && line.packs !== line.was);
  const skipped = sheet.lines.filter((line) => line.skipped).length;
  return (
    <section aria-labelledby="end">
      <h2 id="end">{t.stocktake.done(sheet.place)}</h2>
      <div role="status">
        {other.length === 0 ? (
          <p>{t.stocktake.allRight}</p>
        ) : (
          <>
            <h3>{t.stocktake.differed}</h3>
            <ul class="plain">
              {other.map((line) => (
                <li key={line.parcel}>
                  {t.stocktake.less(countWords(line.packs ?? 0), countWords(line.was), line.name)}
                </li>
              ))}
            </ul>
          </>
        )}
        {skipped > 0 && <p>{t.stocktake.skipped(skipped)}</p>}
      </div>
      {skipped > 0 && (
        <button type="button" class="plain-button" onClick={onAgain}>
          {t.stocktake.goOver}
        </button>
      )}
      <button type="button" class="main" onClick={onEnd}>
        {t.stocktake.another}
      </button>
    </section>
  );
}

/** The same sheet on paper, for a cellar where no phone goes. */
function PaperSheet({ sheet }: { sheet: Sheet }) {
  return (
    <table class="paper-only">
      <thead>
        <tr>
          {t.stocktake.columns.map((one) => (
            <th key={one} scope="col">
              {one}
            </th>
          ))}
        </tr>
      </thead>
      <tbody>
        {sheet.lines.map((line) => (
          <tr key={line.parcel}>
            <td>{line.code}</td>
            <td>{line.name}</td>
            <td>{line.pack}</td>
            <td>{countWords(line.was)}</td>
            <td>{line.packs === null ? '________' : countWords(line.packs)}</td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}
