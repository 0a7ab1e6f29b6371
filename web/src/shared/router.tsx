import { useEffect, useState } from 'preact/hooks';

/** The page's address. Links stay plain `<a href>`: clicks on them are taken here, so pages open without a reload. */
export interface Where {
  path: string;
  query: URLSearchParams;
}

const here = (): Where => ({ path: location.pathname, query: new URLSearchParams(location.search) });
const listeners = new Set<() => void>();

function moved(): void {
  for (const listener of listeners) listener();
}

export function go(address: string): void {
  history.pushState(null, '', address);
  moved();
}

/** Replaces the address without a new step back: for a page that has become another. */
export function become(address: string): void {
  history.replaceState(null, '', address);
  moved();
}

function onClick(event: MouseEvent): void {
  if (event.defaultPrevented || event.button !== 0 || event.metaKey || event.ctrlKey || event.shiftKey) return;
  const link = event.target instanceof Element ? event.target.closest('a') : null;
  const address = link?.getAttribute('href');
  if (!link || !address?.startsWith('/') || address.startsWith('/api/') || link.hasAttribute('download')) return;
  event.preventDefault();
  go(address);
}

export function useWhere(): Where {
  const [where, setWhere] = useState(here);
  useEffect(() => {
    const listener = (): void => setWhere(here());
    listeners.add(listener);
    window.addEventListener('popstate', listener);
    document.addEventListener('click', onClick);
    return () => {
      listeners.delete(listener);
      window.removeEventListener('popstate', listener);
      document.removeEventListener('click', onClick);
    };
  }, []);
  return where;
}
