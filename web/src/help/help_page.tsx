import { useEffect, useState } from 'preact/hooks';

import type { HelpTask, HelpView, Snapshot } from '../api/types';
import { act } from '../shared/act';
import { Alone } from '../shared/alone';
import type { Draft } from '../shared/entries';
import { Heading, Loaded } from '../shared/page';
import { t } from '../shared/texts';
import { refresh, useView } from '../shared/views';
import { lendTo, rememberSpeaker } from '../shared/who';
import '../stocktake/stocktake.css';

/**
 * One clear task that suits whoever wants to help. What suits is chosen by the household, never here. The device is lent:
 * it speaks for the helper on this page only.
 */
export function HelpPage() {
  const [who, setWho] = useState('');
  useEffect(() => {
    if (who === '') return undefined;
    lendTo(who);
    return rememberSpeaker;
  }, [who]);
  return (
    <>
      <Heading title={t.help.heading} unseen={who !== ''} />
      <p>
        <a class="quiet" href="/">
          {t.one.close}
        </a>
      </p>
      {who === '' ? <Who onWho={setWho} /> : <Helping key={who} who={who} onOther={() => setWho('')} />}
    </>
  );
}

function Who({ onWho }: { onWho: (key: string) => void }) {
  const seen = useView<Snapshot>('/snapshot');
  return (
    <Loaded seen={seen}>
      {(snapshot) => (
        <>
          <h2>{t.help.who}</h2>
          {snapshot.people.length === 0 && <p>{t.help.nobody}</p>}
          <ul class="shelf-choice">
            {snapshot.people.map((name, i) => (
              <li key={snapshot.people_keys[i]}>
                <button type="button" onClick={() => onWho(snapshot.people_keys[i] ?? '')}>
                  {name}
                </button>
              </li>
            ))}
          </ul>
        </>
      )}
    </Loaded>
  );
}

/** What the button of a task records: begun when it was not, done when it was. Exported for its test. */
export function helpDrafts(task: HelpTask, who: string): Draft[] {
  const { batch, stage } = task;
  if (task.action === 'move') return [{ kind: 'moved', what: { parcel: task.lot, place: task.place } }];
  if (task.action === 'other_work') return [{ kind: 'other_work_done', what: { key: task.other } }];
  if (task.state === 'underway') return [{ kind: 'stage_finished', what: { batch, stage } }];
  return [{ kind: 'stage_started', what: { batch, stage, who } }];
}

function Helping({ who, onOther }: { who: string; onOther: () => void }) {
  const seen = useView<HelpView>(`/help/${encodeURIComponent(who)}`);
  const [passed, setPassed] = useState<string[]>([]);
  const [busy, setBusy] = useState(false);
  return (
    <Loaded seen={seen}>
      {(view) => {
        const open = view.tasks.filter((task) => !passed.includes(task.key));
        const task = open[0];
        if (!task) {
          return (
            <div class="alone">
              <p class="next-title">{view.tasks.length > 0 ? t.help.noMore : view.none}</p>
              <button
                type="button"
                class="main"
                onClick={() => {
                  setPassed([]);
                  refresh();
                }}
              >
                {t.help.again}
              </button>
              <button type="button" class="quiet" onClick={onOther}>
                {t.help.other}
              </button>
            </div>
          );
        }
        const begins = task.action === 'stage' && task.state !== 'underway';
        const doIt = async (): Promise<void> => {
          setBusy(true);
          await act(helpDrafts(task, who), t.help.said(view.name, task.title));
          setBusy(false);
        };
        const pass = (): void => setPassed([...passed, task.key]);
        return (
          <Alone
            cannot={pass}
            next={open.length > 1 ? pass : null}
            main={
              <button type="button" class="main" disabled={busy} onClick={() => void doIt()}>
                {begins ? t.help.begin : t.help.done}
              </button>
            }
          >
            <p class="soft">{t.help.task(view.name)}</p>
            <h2 class="next-title" aria-live="polite">
              {task.title}
            </h2>
            {task.caution !== '' && <p class="caution step-caution">{task.caution}</p>}
            {task.text !== '' && <p class="step-text">{task.text}</p>}
            {task.why !== '' && <p class="soft">{task.why}</p>}
            <p>
              <button type="button" class="quiet" onClick={onOther}>
                {t.help.other}
              </button>
            </p>
          </Alone>
        );
      }}
    </Loaded>
  );
}
