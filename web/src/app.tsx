import { useEffect } from 'preact/hooks';

import { AheadPage } from './ahead/ahead_page';
import { listen } from './api/events';
import { BatchPage } from './batch/batch_page';
import { BatchesPage } from './batch/batches_page';
import { CardPage } from './batch/card_page';
import { StartBatchPage } from './batch/start_batch_page';
import { BringInPage } from './bring_in/bring_in_page';
import { ButcheringPage } from './butchering/butchering_page';
import { DevicesPage } from './devices/devices_page';
import { HelpPage } from './help/help_page';
import { HistoryPage } from './history/history_page';
import { LarderPage } from './larder/larder_page';
import { LotPage } from './lot/lot_page';
import { ProcessPage } from './process/process_page';
import { RecipePage } from './recipes/recipe_page';
import { RecipesPage } from './recipes/recipes_page';
import { SettingsPage } from './settings/settings_page';
import { SettlePage } from './settle/settle_page';
import type { DayView } from './api/types';
import { ageWords, Heading } from './shared/page';
import { become, useWhere, type Where } from './shared/router';
import { t } from './shared/texts';
import { TimersBar } from './shared/timers';
import { ToastLine } from './shared/toast';
import { keepSending } from './shared/sending';
import { keepForOffline, outbox, refresh, useDay, useTurned, useWaiting, type Seen } from './shared/views';
import { StartPage } from './start/start_page';
import { StocktakePage } from './stocktake/stocktake_page';
import { OnePage } from './today/one_page';
import { TodayPage } from './today/today_page';

/** A plan takes a second; the event that says it is ready may be missed. */
const kPlanMs = 2_000;

export function App() {
  const where = useWhere();
  const day = useDay();
  const inBatch = where.path.startsWith('/batches/') || where.path === '/stocktake';
  // One thing, and nothing else on the screen.
  const alone = where.path === '/one' || where.path === '/help';
  useEffect(() => {
    const sending = keepSending();
    const stop = listen(() => {
      refresh();
      sending.now();
    });
    return () => {
      stop();
      sending.stop();
    };
  }, []);
  useEffect(() => {
    if (day.fresh && !day.offline && !day.data?.plan_stale) void keepForOffline();
  }, [day.fresh, day.offline, day.data?.household.sequence, day.data?.plan_stale]);
  useEffect(() => {
    if (!day.data?.plan_stale) return undefined;
    const timer = setTimeout(refresh, kPlanMs);
    return () => clearTimeout(timer);
  }, [day.data]);
  // An empty household is asked first; once, so that "not now" leads on.
  useEffect(() => {
    if (
      day.fresh &&
      day.data?.household.empty &&
      where.path === '/' &&
      sessionStorage.getItem('stillroom.asked') === null
    ) {
      sessionStorage.setItem('stillroom.asked', 'yes');
      become('/start');
    }
  }, [day.data, where.path]);
  return (
    <>
      <a class="skip" href="#main">
        {t.skip}
      </a>
      <header class={inBatch ? 'top top-batch' : 'top'} hidden={alone}>
        <a href="/" class="house">
          {day.data?.household.name || t.name}
        </a>
        <Pages label={t.nav.label} class="nav-main" pages={kitchenPages} path={where.path} />
        <Pages
          label={t.nav.more}
          class="nav-more"
          pages={inBatch ? [kitchenPages[0], ...deskPages] : deskPages}
          path={where.path}
        />
      </header>
      <Standing day={day} />
      <TimersBar />
      <main id="main">
        <Page where={where} />
      </main>
      <ToastLine />
    </>
  );
}

interface PageLink {
  path: string;
  name: 'today' | 'ahead' | 'bringIn' | 'larder' | 'recipes' | 'history' | 'settings';
}
/** Used with a wet thumb: on a phone these lie under it. */
const kitchenPages: [PageLink, ...PageLink[]] = [
  { path: '/', name: 'today' },
  { path: '/ahead', name: 'ahead' },
  { path: '/bring-in', name: 'bringIn' },
  { path: '/larder', name: 'larder' },
];
const deskPages: PageLink[] = [
  { path: '/recipes', name: 'recipes' },
  { path: '/history', name: 'history' },
  { path: '/settings', name: 'settings' },
];

function Pages(props: { label: string; class: string; pages: PageLink[]; path: string }) {
  return (
    <nav aria-label={props.label} class={props.class}>
      {props.pages.map(({ path, name }) => (
        <a key={path} href={path} aria-current={props.path === path ? 'page' : undefined}>
          {t.nav[name]}
        </a>
      ))}
    </nav>
  );
}

function Page({ where }: { where: Where }) {
  const [, first, second, third] = where.path.split('/');
  switch (first) {
    case '':
      return <TodayPage />;
    case 'ahead':
      return <AheadPage />;
    case 'bring-in':
      return <BringInPage />;
    case 'butchering':
      return <ButcheringPage />;
    case 'help':
      return <HelpPage />;
    case 'larder':
      return <LarderPage />;
    case 'one':
      return <OnePage />;
    case 'stocktake':
      return <StocktakePage />;
    case 'process':
      return <ProcessPage query={where.query} />;
    case 'recipes': {
      if (!second) return <RecipesPage />;
      const id = decodeURIComponent(where.path.slice('/recipes/'.length));
      return <RecipePage key={id} id={id} query={where.query} />;
    }
    case 'devices':
      return <DevicesPage />;
    case 'settle':
      return <SettlePage />;
    case 'history':
      return <HistoryPage />;
    case 'settings':
      return <SettingsPage />;
    case 'start':
      return <StartPage />;
    case 'start-batch': {
      const lots = where.query.getAll('lot').filter((lot) => lot !== '');
      return (
        <StartBatchPage route={where.query.get('route') ?? ''} lots={lots} kg={Number(where.query.get('kg') ?? 0)} />
      );
    }
    case 'lots':
      if (second) return <LotPage key={second} id={second} open={where.query.get('do') ?? ''} />;
      break;
    case 'batches':
      if (!second) return <BatchesPage />;
      if (third === 'card') return <CardPage key={second} id={second} />;
      return <BatchPage key={second} id={second} />;
  }
  return (
    <>
      <Heading title={t.noPage} />
      <p>
        <a href="/">{t.nav.today}</a>
      </p>
    </>
  );
}

/** Says when there is no connection, how old the page is, what waits to be sent, and what is to be settled. */
function Standing({ day }: { day: Seen<DayView> }) {
  const waiting = useWaiting().length;
  const differ = useTurned().length + (day.data?.discrepancies.length ?? 0);
  const trouble = day.trouble ?? outbox.trouble;
  if (!day.offline && waiting === 0 && differ === 0) return null;
  return (
    <p class="standing" role="status">
      {trouble && `${trouble.message} ${trouble.instead.join(' ')} `}
      {day.offline && t.offline.asOf(ageWords(day), trouble !== null)}{' '}
      {waiting > 0 && <a href="/history">{t.outbox.count(waiting)}</a>}{' '}
      {differ > 0 && <a href="/settle">{t.settle.toSettle(differ)}</a>}
    </p>
  );
}
