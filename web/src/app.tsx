import { useEffect } from 'preact/hooks';

import { AheadPage } from './ahead/ahead_page';
import { listen } from './api/events';
import { BatchPage } from './batch/batch_page';
import { BatchesPage } from './batch/batches_page';
import { CardPage } from './batch/card_page';
import { StartBatchPage } from './batch/start_batch_page';
import { BringInPage } from './bring_in/bring_in_page';
import { ButcheringPage } from './butchering/butchering_page';
import { HelpPage } from './help/help_page';
import { HistoryPage } from './history/history_page';
import { LarderPage } from './larder/larder_page';
import { LotPage } from './lot/lot_page';
import { ProcessPage } from './process/process_page';
import { RecipePage } from './recipes/recipe_page';
import { RecipesPage } from './recipes/recipes_page';
import { SettingsPage } from './settings/settings_page';
import { clockWords, type Units } from './shared/format';
import { Heading } from './shared/page';
import { become, useWhere, type Where } from './shared/router';
import { t } from './shared/texts';
import { TimersBar } from './shared/timers';
import { ToastLine } from './shared/toast';
import { keepForOffline, outbox, refresh, useDay, useWaiting } from './shared/views';
import { StartPage } from './start/start_page';
import { StocktakePage } from './stocktake/stocktake_page';
import { OnePage } from './today/one_page';
import { TodayPage } from './today/today_page';

const kRetryMs = 20_000;
/** A plan takes a second; the event that says it is ready may be missed. */
const kPlanMs = 2_000;

export function App() {
  const where = useWhere();
  const day = useDay();
  const batches = day.data?.running.map((one) => `/batches/${one.batch}`).join(' ') ?? '';
  const inBatch = where.path.startsWith('/batches/') || where.path === '/stocktake';
  // One thing, and nothing else on the screen.
  const alone = where.path === '/one' || where.path === '/help';
  useOutbox();
  useEffect(() => listen(refresh), []);
  useEffect(() => {
    if (day.data && !day.offline) {
      void keepForOffline(['/snapshot', '/larder', ...batches.split(' ').filter((path) => path !== '')]);
    }
  }, [day.data?.household.sequence, batches]);
  useEffect(() => {
    if (!day.data?.plan_stale) return undefined;
    const timer = setTimeout(refresh, kPlanMs);
    return () => clearTimeout(timer);
  }, [day.data]);
  // An empty household is asked first; once, so that "not now" leads on.
  useEffect(() => {
    if (day.data?.household.empty && where.path === '/' && sessionStorage.getItem('stillroom.asked') === null) {
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
      <Standing offline={day.offline} at={day.at} units={day.data?.household.units ?? 'us'} />
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

/** Says when there is no connection, how old the page is, and what waits to be sent. */
function Standing({ offline, at, units }: { offline: boolean; at: number; units: Units }) {
  const waiting = useWaiting().length;
  if (!offline && waiting === 0) return null;
  const seen = new Date(at);
  const when = at === 0 ? '' : clockWords(seen.getHours() * 60 + seen.getMinutes(), units);
  return (
    <p class="standing" role="status">
      {offline && t.offline.asOf(when)} {waiting > 0 && <a href="/history">{t.outbox.count(waiting)}</a>}
    </p>
  );
}

/** Sends what waits: at once, when there is a connection again, when the page is seen, and now and then. */
function useOutbox(): void {
  useEffect(() => {
    const send = (): void => {
      void outbox.waiting().then(async (waiting) => {
        if (waiting.length === 0) return;
        await outbox.flush();
        if ((await outbox.waiting()).length < waiting.length) refresh();
      });
    };
    send();
    const timer = setInterval(send, kRetryMs);
    window.addEventListener('online', send);
    document.addEventListener('visibilitychange', send);
    return () => {
      clearInterval(timer);
      window.removeEventListener('online', send);
      document.removeEventListener('visibilitychange', send);
    };
  }, []);
}
