import type { ComponentChildren } from 'preact';

import { t } from './texts';

/** One thing on the screen: what it is, and its three moves under the thumb. `main` is what does it. */
export function Alone(props: {
  children: ComponentChildren;
  main: ComponentChildren;
  cannot: (() => void) | null;
  next: (() => void) | null;
}) {
  return (
    <div class="alone">
      {props.children}
      <div class="alone-foot">
        <div class="thumb-bar">
          <button type="button" disabled={!props.cannot} onClick={() => props.cannot?.()}>
            {t.one.cannot}
          </button>
          <button type="button" disabled={!props.next} onClick={() => props.next?.()}>
            {t.one.next}
          </button>
          {props.main}
        </div>
      </div>
    </div>
  );
}
