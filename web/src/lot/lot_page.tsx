import type { HistoryLine, LotView, RouteChoice } from '../api/types';
import { Figure } from '../shared/figure';
import { whenWords } from '../shared/format';
import { Heading, Line, Loaded } from '../shared/page';
import { undoEntry } from '../shared/act';
import { t } from '../shared/texts';
import { useDrawnLot } from '../shared/drawn';
import { useDay } from '../shared/views';
import { scaleFor } from '../strips/geometry';
import { Strip } from '../strips/strip';
import { Axis, useWidth } from '../strips/strips';
import { Doing } from './doing';
import { WhyLot } from './why';
import './lot.css';

export function LotPage({ id, open }: { id: string; open: string }) {
  const household = useDay().data?.household ?? null;
  const seen = useDrawnLot(id, household?.units ?? 'us');
  return (
    <>
      <Heading title={seen.data?.strip.name ?? t.lot.heading} />
      <Loaded seen={seen}>
        {(lot) => (
          <div class="lot">
            <div>
              <Top lot={lot} now={household?.now ?? ''} />
              <Doing lot={lot} open={open} />
              <Routes lot={lot} />
            </div>
            <div>
              <WhyLot id={id} />
              <section aria-labelledby="known">
                <h2 id="known">{t.lot.facts}</h2>
                {lot.facts.length === 0 ? <p class="soft">{t.lot.noFacts}</p> : <Lines lines={lot.facts} />}
                {lot.lie_apart.length > 0 && (
                  <>
                    <h3>{t.lot.apart}</h3>
                    <Lines lines={lot.lie_apart} />
                  </>
                )}
              </section>
              <section aria-labelledby="past">
                <h2 id="past">{t.lot.history}</h2>
                <History lines={lot.history} now={household?.now ?? ''} units={household?.units ?? 'us'} />
              </section>
            </div>
          </div>
        )}
      </Loaded>
    </>
  );
}

function Lines({ lines }: { lines: string[] }) {
  return (
    <ul class="plain">
      {lines.map((line) => (
        <li key={line}>{line}</li>
      ))}
    </ul>
  );
}

function Top({ lot, now }: { lot: LotView; now: string }) {
  const { strip } = lot;
  const [width, ref] = useWidth();
  const scale = scaleFor([strip], width);
  const facts = [strip.amount, strip.standing ? '' : strip.condition, strip.place];
  return (
    <section class="lot-top">
      {strip.caution !== '' && <p class="caution">{strip.caution}</p>}
      <p class="lot-facts">
        {facts.filter((part) => part !== '').join(', ')}
        {strip.waiting && <span class="soft"> {t.outbox.notSent}</span>}
      </p>
      <p>
        {t.lot.left} <Figure words={strip.days_left.words} how={t.how.daysLeft(strip)} />
        {strip.loss_per_day !== '' && (
          <>
            {'. '}
            {t.lot.losing} <Figure words={strip.loss_per_day} how={t.how.loss(strip)} />
          </>
        )}
        {strip.cost_words !== '' && (
          <>
            {'. '}
            {t.lot.waitingCosts} <Figure words={strip.cost_words} how={t.how.cost(strip)} />
          </>
        )}
        .
      </p>
      <div class="strips" ref={ref}>
        {width > 0 && now !== '' && (
          <>
            <Strip strip={strip} scale={scale} now={now} />
            <Axis scale={scale} now={now} />
          </>
        )}
      </div>
      {strip.let_go_reason !== '' && (
        <p>
          <strong>{t.strips.letGo}.</strong> {strip.let_go_reason}
        </p>
      )}
      {lot.best_place !== '' && <p>{t.lot.best(lot.best_place)}</p>}
    </section>
  );
}

function Routes({ lot }: { lot: LotView }) {
  const able = lot.routes.filter((route) => route.accepted);
  const not = lot.routes.filter((route) => !route.accepted);
  return (
    <section aria-labelledby="routes">
      <h2 id="routes">{t.lot.routes}</h2>
      {able.length === 0 && <p>{t.lot.noRoutes}</p>}
      <ul class="lines routes">
        {able.map((route) => (
          <Line key={route.route} margin={t.methods[route.method] ?? route.method}>
            <RouteLine route={route} lot={lot.strip.lot} kg={lot.strip.mass_kg} />
          </Line>
        ))}
      </ul>
      {not.length > 0 && (
        <details class="fold">
          <summary>{t.lot.notNow(not.length)}</summary>
          <ul class="lines">
            {not.map((route) => (
              <Line key={route.route} margin={t.methods[route.method] ?? route.method}>
                <p>{route.name}</p>
                <p class="soft">{route.why_not}</p>
              </Line>
            ))}
          </ul>
        </details>
      )}
    </section>
  );
}

function RouteLine({ route, lot, kg }: { route: RouteChoice; lot: string; kg: number }) {
  const most = route.kg_most > 0 ? Math.min(route.kg_most, kg) : kg;
  const address = `/start-batch?${new URLSearchParams({ route: route.route, lot, kg: String(most) })}`;
  const facts = [route.packs, route.hours, route.worth].filter((part) => part !== '');
  return (
    <>
      <p>
        <a href={address}>{route.name}</a>
        {route.planned && <strong> {t.lot.planned}</strong>}
      </p>
      {facts.length > 0 && <p class="soft">{facts.join(', ')}</p>}
      {route.process_line !== '' && <p class="process-line">{route.process_line}</p>}
    </>
  );
}

export function History(props: { lines: HistoryLine[]; now: string; units: 'us' | 'metric' }) {
  return (
    <ul class="lines history">
      {props.lines.map((line) => (
        <Line
          key={line.entry}
          class={line.undone ? 'undone' : ''}
          margin={whenWords(line.at, props.now, props.units)}
        >
          <p>
            {line.undone ? <s>{line.words}</s> : line.words}
            {line.undone && <span class="soft"> {t.history.undone}</span>}
          </p>
          {!line.undone && line.entry !== '' && (
            <button
              type="button"
              class="quiet"
              aria-label={t.history.undoOf(line.words)}
              onClick={() => void undoEntry(line.entry, line.words)}
            >
              {t.undo.button}
            </button>
          )}
        </Line>
      ))}
    </ul>
  );
}
