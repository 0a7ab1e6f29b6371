import type { ComponentChildren } from 'preact';
import { useEffect, useRef } from 'preact/hooks';

import { t } from './texts';
import { whenWords } from './format';
import { useDay, type Seen } from './views';

/** A page's heading, for readers only where the page says it otherwise; takes the focus when the page opens, so that keyboard and reader start there. */
export function Heading(props: { title: string; unseen?: boolean; children?: ComponentChildren }) {
  const { title, children } = props;
  const ref = useRef<HTMLHeadingElement>(null);
  useEffect(() => {
    document.title = t.titleOf(title);
    ref.current?.focus({ preventScroll: true });
    window.scrollTo(0, 0);
  }, [title]);
  return (
    <header class={props.unseen ? 'page-head unseen' : 'page-head'}>
      <h1 tabIndex={-1} ref={ref}>
        {title}
      </h1>
      {children}
    </header>
  );
}

/** The household's own no: what is wrong, and what to do instead. */
export function No({ no, alert }: { no: { message: string; instead: string[] }; alert?: boolean }) {
  return (
    <div class="no" role={alert ? 'alert' : undefined}>
      <p>{no.message}</p>
      <ul>
        {no.instead.map((line) => (
          <li key={line}>{line}</li>
        ))}
      </ul>
    </div>
  );
}

/** Draws a view once it is there, says when it is an old look, and passes on the household's own no. */
export function Loaded<T>({ seen, children }: { seen: Seen<T>; children: (data: T) => ComponentChildren }) {
  if (seen.refusal) return <No no={seen.refusal} alert />;
  if (seen.data === null) return <p class="soft">{seen.offline ? t.offline.never : t.loading}</p>;
  return (
    <>
      <Age seen={seen} />
      {children(seen.data)}
    </>
  );
}

/** How old a look is that is older than the one whose age stands at the top of every page. */
function Age({ seen }: { seen: Seen<unknown> }) {
  const top = useDay();
  if (!seen.offline || Math.abs(seen.at - top.at) < kSameMs) return null;
  return <p class="soft">{t.offline.thisAsOf(ageWords(seen))}</p>;
}

const kSameMs = 60_000;

/** "today 3:05 pm": when a look left the household, by this device's clock. Empty when there is none. */
export function ageWords({ at }: { at: number }): string {
  if (at === 0) return '';
  const local = (ms: number): string =>
    new Date(ms - new Date(ms).getTimezoneOffset() * 60_000).toISOString().slice(0, 16);
  return whenWords(local(at), local(Date.now()), 'us');
}

/** A line of the ledger: a margin for time, code or count, a rule, and the words. */
export function Line(props: { margin: ComponentChildren; class?: string; children: ComponentChildren }) {
  return (
    <li class={`line ${props.class ?? ''}`}>
      <div class="line-margin">{props.margin}</div>
      <div class="line-words">{props.children}</div>
    </li>
  );
}
