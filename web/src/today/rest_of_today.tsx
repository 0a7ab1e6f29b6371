import type { HouseholdView, TaskView } from '../api/types';
import { Figure } from '../shared/figure';
import { endWords, listWords, timeWords } from '../shared/format';
import { Line } from '../shared/page';
import { t } from '../shared/texts';

/** Tasks of each hand that stand on the day's page at once. */
const kShown = 3;

export interface Shown {
  task: TaskView;
  /** What runs by itself meanwhile, begun while this was under way or before the next began. */
  meanwhile: TaskView[];
}

export interface HandDay {
  /** Empty for what anyone may do, and for what runs by itself with nobody having begun it today. */
  hand: string;
  shown: Shown[];
}

/** Tasks of each hand by hour; unattended work stands under the attended task it goes along with. */
export function byHand(tasks: TaskView[]): HandDay[] {
  const shown = tasks
    .filter((task) => task.attention !== 'unattended')
    .map((task): Shown => ({ task, meanwhile: [] }));
  const left: Shown[] = [];
  for (const task of tasks.filter((one) => one.attention === 'unattended')) {
    const before = shown.filter((one) => one.task.start <= task.start);
    const same = before.filter((one) => one.task.batch !== '' && one.task.batch === task.batch);
    const under = same.at(-1) ?? before.at(-1);
    if (under) under.meanwhile.push(task);
    else left.push({ task, meanwhile: [] });
  }
  const hands = [...new Set(shown.flatMap((one) => (one.task.hands.length === 0 ? [''] : one.task.hands)))];
  const days = hands.map((hand) => ({
    hand,
    shown: shown.filter((one) => (hand === '' ? one.task.hands.length === 0 : one.task.hands.includes(hand))),
  }));
  return left.length > 0 ? [{ hand: '', shown: left }, ...days] : days;
}

export function RestOfToday({ tasks, household }: { tasks: TaskView[]; household: HouseholdView }) {
  if (tasks.length === 0) return <p>{t.today.nothingMore}</p>;
  return (
    <>
      {byHand(tasks).map((group) => (
        <Hand key={group.hand} group={group} household={household} most={kShown} />
      ))}
    </>
  );
}

/** Tasks of one hand: the first few, and the rest on asking, so that the strips below stay near. */
export function Hand({ group, household, most }: { group: HandDay; household: HouseholdView; most: number }) {
  const byItself = group.shown.every((one) => one.task.attention === 'unattended');
  const name = group.hand !== '' ? group.hand : byItself ? t.today.byItself : t.today.anyone;
  const lines = (shown: Shown[]) => (
    <ul class="lines">
      {shown.map((one) => (
        <TaskLine key={`${one.task.start}${one.task.title}`} shown={one} hand={group.hand} household={household} />
      ))}
    </ul>
  );
  const rest = group.shown.slice(most);
  return (
    <div class="hand">
      <h3>{name}</h3>
      {lines(group.shown.slice(0, most))}
      {rest.length > 0 && (
        <details class="fold more-tasks">
          <summary>{t.today.moreFor(rest.length, name)}</summary>
          {lines(rest)}
        </details>
      )}
    </div>
  );
}

function TaskLine({ shown, hand, household }: { shown: Shown; hand: string; household: HouseholdView }) {
  const { task, meanwhile } = shown;
  const others = task.hands.filter((name) => name !== hand);
  const { units } = household;
  const address = task.batch !== '' ? `/batches/${task.batch}` : task.lot !== '' ? `/lots/${task.lot}` : '';
  return (
    <Line class={`task ${task.attention}`} margin={timeWords(task.start, units)}>
      <p>
        {address === '' ? task.title : <a href={address}>{task.title}</a>}
        <span class="soft">
          {' '}
          {task.end !== task.start && t.today.until(endWords(task.start, task.end, units))}
          {others.length > 0 && `, ${t.today.together(listWords(others))}`}
          {task.attention === 'nearby' && `, ${t.attention.nearby}`}
          {task.state !== 'planned' && `, ${t.states[task.state] ?? ''}`}
        </span>{' '}
        {task.why !== '' && <Figure words={t.today.why} how={[task.why]} />}
      </p>
      {meanwhile.map((one) => (
        <p key={`${one.start}${one.title}`} class="meanwhile">
          {one.title}
          <span class="soft">
            {' '}
            {timeWords(one.start, units)} {t.today.until(endWords(one.start, one.end, units))},{' '}
            {t.attention.unattended}
          </span>
        </p>
      ))}
    </Line>
  );
}
