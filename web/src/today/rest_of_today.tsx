import type { HouseholdView, TaskView } from '../api/types';
import { listWords, timeWords } from '../shared/format';
import { Line } from '../shared/page';
import { t } from '../shared/texts';

export interface Shown {
  task: TaskView;
  /** What runs by itself meanwhile, begun while this was under way or before the next began. */
  meanwhile: TaskView[];
}

/** Tasks of each hand by hour; unattended work stands under the attended task it goes along with. */
export function byHand(tasks: TaskView[]): { hands: string; shown: Shown[] }[] {
  const attended = tasks.filter((task) => task.attention !== 'unattended');
  const alone = tasks.filter((task) => task.attention === 'unattended');
  const groups = new Map<string, Shown[]>();
  const all: Shown[] = [];
  for (const task of attended) {
    const shown: Shown = { task, meanwhile: [] };
    all.push(shown);
    const hands = listWords(task.hands);
    groups.set(hands, [...(groups.get(hands) ?? []), shown]);
  }
  const left: Shown[] = [];
  for (const task of alone) {
    const before = all.filter((shown) => shown.task.start <= task.start);
    const same = before.filter((shown) => shown.task.batch !== '' && shown.task.batch === task.batch);
    const under = same.at(-1) ?? before.at(-1);
    if (under) under.meanwhile.push(task);
    else left.push({ task, meanwhile: [] });
  }
  const out = [...groups].map(([hands, shown]) => ({ hands, shown }));
  return left.length > 0 ? [{ hands: '', shown: left }, ...out] : out;
}

export function RestOfToday({ tasks, household }: { tasks: TaskView[]; household: HouseholdView }) {
  if (tasks.length === 0) return <p>{t.today.nothingMore}</p>;
  return (
    <>
      {byHand(tasks).map((group) => (
        <section key={group.hands} class="hand">
          <h3>{group.hands === '' ? t.today.byItself : group.hands}</h3>
          <ul class="lines">
            {group.shown.map((shown) => (
              <TaskLine key={`${shown.task.start}${shown.task.title}`} shown={shown} household={household} />
            ))}
          </ul>
        </section>
      ))}
    </>
  );
}

export function TaskLine({ shown, household }: { shown: Shown; household: HouseholdView }) {
  const { task, meanwhile } = shown;
  const { units } = household;
  const address = task.batch !== '' ? `/batches/${task.batch}` : task.lot !== '' ? `/lots/${task.lot}` : '';
  return (
    <Line class={`task ${task.attention}`} margin={timeWords(task.start, units)}>
      <p>
        {address === '' ? task.title : <a href={address}>{task.title}</a>}
        <span class="soft">
          {' '}
          {t.today.until(timeWords(task.end, units))}
          {task.attention === 'nearby' && `, ${t.attention.nearby}`}
          {task.state !== 'planned' && `, ${t.states[task.state] ?? ''}`}
        </span>
      </p>
      {task.why !== '' && <p class="soft">{task.why}</p>}
      {meanwhile.map((one) => (
        <p key={`${one.start}${one.title}`} class="meanwhile">
          {one.title}
          <span class="soft">
            {' '}
            {timeWords(one.start, units)} {t.today.until(timeWords(one.end, units))}, {t.attention.unattended}
          </span>
        </p>
      ))}
    </Line>
  );
}
