import { useState } from 'preact/hooks';

import type { LarderView, PackView } from '../api/types';
import { act, actFor, undoAll } from '../shared/act';
import type { Outcome } from '../shared/outbox';
import { SealForm } from '../batch/seal_check';
import { befallenPlace, Trouble } from '../batch/trouble';
import { Figure } from '../shared/figure';
import { Fold, Form, NumberField, TextField } from '../shared/form';
import { countWords, dateWords, readNumber } from '../shared/format';
import { Heading, Line, Loaded } from '../shared/page';
import { useDrawnLarder } from '../shared/drawn';
import { t } from '../shared/texts';
import { OnShelf } from './on_shelf';
import './larder.css';

export function LarderPage() {
  const seen = useDrawnLarder();
  return (
    <>
      <Heading title={t.nav.larder} />
      <Loaded seen={seen}>{(view) => <Larder larder={view} />}</Loaded>
    </>
  );
}

function Larder({ larder }: { larder: LarderView }) {
  const [typed, setTyped] = useState('');
  const wanted = typed.trim().toLowerCase();
  const fits = (pack: PackView): boolean => fitsTyped(pack, wanted);
  const shelves = larder.shelves
    .map((shelf) => ({ ...shelf, packs: shelf.packs.filter(fits) }))
    .filter((shelf) => shelf.packs.length > 0);
  if (larder.shelves.every((shelf) => shelf.packs.length === 0)) {
    return (
      <>
        <p>{t.larder.empty}</p>
        <OnShelf units={larder.household.units} />
      </>
    );
  }
  return (
    <div class="larder">
      <div>
        <TextField label={t.larder.find} type="search" enterKey="search" value={typed} onChange={setTyped} />
        <p>
          <a class="quiet" href="/stocktake">
            {t.larder.stocktake}
          </a>
        </p>
        {wanted === '' && larder.eat_first.length > 0 && (
          <section aria-labelledby="eat-first">
            <h2 id="eat-first">{t.larder.eatFirst}</h2>
            <ul class="lines">
              {larder.eat_first.map((pack) => (
                <PackLine key={pack.parcel} pack={pack} where />
              ))}
            </ul>
          </section>
        )}
        {larder.totals.length > 0 && wanted === '' && (
          <section aria-labelledby="totals">
            <h2 id="totals">{t.larder.totals}</h2>
            <ul class="plain">
              {larder.totals.map((line) => (
                <li key={line}>
                  <Figure words={line} how={[t.how.totals]} />
                </li>
              ))}
            </ul>
          </section>
        )}
      </div>
      <div>
        {shelves.map((shelf) => (
          <section key={shelf.place_key} aria-label={shelf.place}>
            <h2>{shelf.place}</h2>
            <ul class="lines">
              {shelf.packs.map((pack) => (
                <PackLine key={pack.parcel} pack={pack} where={false} taking={wanted !== ''} />
              ))}
            </ul>
            {shelf.troubles.length > 0 && (
              <Fold title={t.trouble.place(shelf.place)}>
                <Trouble about={befallenPlace(shelf)} />
              </Fold>
            )}
          </section>
        ))}
        <OnShelf units={larder.household.units} />
        {shelves.length === 0 && <p aria-live="polite">{t.larder.none(typed)}</p>}
      </div>
    </div>
  );
}

/** As a code is read off a label: case, dashes and spaces do not count, O is 0, I and L are 1. */
const plainCode = (text: string): string =>
  text
    .toLowerCase()
    .replaceAll(/[^a-z0-9]/g, '')
    .replaceAll('o', '0')
    .replaceAll(/[il]/g, '1');

/** By the first letters of the code, or any part of the name. Exported for its test. */
export function fitsTyped(pack: PackView, wanted: string): boolean {
  if (wanted === '') return true;
  const code = plainCode(wanted);
  if (code !== '' && plainCode(pack.code).startsWith(code)) return true;
  return `${pack.name} ${pack.food} ${pack.form} ${pack.lots}`.toLowerCase().includes(wanted);
}

/** What was taken on this page and can be put back, newest last; by parcel. */
const takenHere = new Map<string, { outcome: Outcome; words: string }[]>();

/** Take so many, and put the last taken back: for whoever stands at the shelf. */
function TakeSome({ pack }: { pack: PackView }) {
  const [packs, setPacks] = useState('2');
  const [, again] = useState(0);
  const count = readNumber(packs) ?? 0;
  const taken = takenHere.get(pack.parcel) ?? [];
  const take = async (): Promise<void> => {
    const words = t.larder.tookSome(countWords(count), pack.pack, pack.name);
    const what = { parcel: pack.parcel, packs: count, why: '' };
    const outcome = await actFor([{ kind: 'taken', what }], words);
    if (outcome) takenHere.set(pack.parcel, [...taken, { outcome, words }]);
    again((n) => n + 1);
  };
  const last = taken.at(-1);
  const putBack = async (): Promise<void> => {
    if (!last) return;
    takenHere.set(pack.parcel, taken.slice(0, -1));
    again((n) => n + 1);
    await undoAll(last.outcome, last.words);
  };
  return (
    <div class="take-some">
      <NumberField label={t.larder.howManyTake} value={packs} onChange={setPacks} />
      <div class="take-moves">
        <button
          type="button"
          disabled={count <= 0 || count > pack.packs}
          aria-label={t.larder.takeSomeOf(countWords(count), pack.name)}
          onClick={() => void take()}
        >
          {t.larder.takeSome(countWords(count))}
        </button>
        <button
          type="button"
          disabled={!last}
          aria-label={t.larder.putBackOf(pack.name)}
          onClick={() => void putBack()}
        >
          {t.larder.putBack}
        </button>
      </div>
    </div>
  );
}

function PackLine({ pack, where, taking }: { pack: PackView; where: boolean; taking?: boolean }) {
  const take = async (): Promise<void> => {
    const words = t.larder.took(pack.pack, pack.name);
    const what = { parcel: pack.parcel, packs: Math.min(1, pack.packs), why: '' };
    const outcome = await actFor([{ kind: 'taken', what }], words);
    if (outcome) takenHere.set(pack.parcel, [...(takenHere.get(pack.parcel) ?? []), { outcome, words }]);
  };
  const facts = [
    where ? pack.place : '',
    pack.eat_by === '' ? '' : t.larder.eatBy(dateWords(pack.eat_by)),
    pack.code,
    pack.waiting ? t.outbox.notSent : '',
  ];
  return (
    <Line class="pack" margin={<span class="count">{countWords(pack.packs)}</span>}>
      <div class="pack-head">
        <div>
          <p>
            {pack.name} <span class="soft">{pack.pack}</span>
          </p>
          <p class="soft">{facts.filter((part) => part !== '').join(', ')}</p>
          {pack.note !== '' && <p>{pack.note}</p>}
        </div>
        {pack.do_not_eat === '' && (
          <button type="button" class="take" aria-label={t.larder.takeOf(pack.name)} onClick={() => void take()}>
            {t.larder.take}
          </button>
        )}
      </div>
      {pack.do_not_eat !== '' && <p class="caution">{pack.do_not_eat}</p>}
      {taking && pack.do_not_eat === '' && <TakeSome pack={pack} />}
      {!where && <PackMore pack={pack} />}
    </Line>
  );
}

function PackMore({ pack }: { pack: PackView }) {
  return (
    <>
      {pack.seals_unchecked && (
        <Fold title={t.larder.seals}>
          <SealForm parcel={pack.parcel} total={pack.packs} name={pack.name} />
        </Fold>
      )}
      <Fold title={t.larder.more}>
        {pack.put_by !== '' && <p>{t.larder.putBy(dateWords(pack.put_by), pack.lots)}</p>}
        {pack.process_line !== '' && <p class="process-line">{pack.process_line}</p>}
        {pack.batch !== '' && (
          <p>
            <a href={`/batches/${pack.batch}`}>{t.larder.batch}</a>
          </p>
        )}
        <CountForm pack={pack} />
        <LeaveForm pack={pack} />
      </Fold>
    </>
  );
}

function CountForm({ pack }: { pack: PackView }) {
  const [packs, setPacks] = useState(countWords(pack.packs));
  const count = readNumber(packs);
  const send = (): void => {
    if (count === null) return;
    void act(
      [{ kind: 'counted', what: { parcel: pack.parcel, packs: count } }],
      t.larder.counted(pack.name, countWords(count)),
    );
  };
  return (
    <Form onSend={send} button={t.larder.countButton} ready={count !== null}>
      <NumberField label={t.larder.count} value={packs} onChange={setPacks} />
    </Form>
  );
}

/** Packs that leave the larder uneaten: given away or thrown away, with the reason asked for, not required. */
function LeaveForm({ pack }: { pack: PackView }) {
  const [packs, setPacks] = useState('1');
  const [why, setWhy] = useState('');
  const count = readNumber(packs) ?? 0;
  const give = (): void =>
    void act(
      [{ kind: 'given_away', what: { parcel: pack.parcel, packs: count, to: why } }],
      t.larder.gave(countWords(count), pack.name),
    );
  const discard = (): void =>
    void act(
      [{ kind: 'thrown_away', what: { parcel: pack.parcel, packs: count, why } }],
      t.larder.threw(countWords(count), pack.name),
    );
  const ready = count > 0 && count <= pack.packs;
  return (
    <div class="leave-pack">
      <NumberField label={t.larder.leave} value={packs} onChange={setPacks} />
      <TextField label={t.larder.leaveWhy} value={why} onChange={setWhy} />
      <button type="button" class="plain-button" disabled={!ready} onClick={give}>
        {t.larder.giveAway}
      </button>{' '}
      <button type="button" class="plain-button" disabled={!ready} onClick={discard}>
        {t.larder.throwAway}
      </button>
    </div>
  );
}
