import type { HouseholdView, TaskView } from '../api/types';
import { clockWords, minutesBetween } from '../shared/format';
import { useWidth } from '../strips/strips';

const kRow = 50;
const kName = 20;
const kBar = 16;
const kThin = 4;
const kDay = 1440;

export interface Row {
  name: string;
  bars: { from: number; to: number; hands: boolean; nearby: boolean }[];
}

/** Minutes from now of every task, by hand; unattended work is a row's thin lines under the hand that began it. */
export function chartRows(tasks: TaskView[], now: string): Row[] {
  const rows = new Map<string, Row>();
  let last = '';
  const rowOf = (name: string): Row => {
    const row = rows.get(name) ?? { name, bars: [] };
    rows.set(name, row);
    return row;
  };
  for (const task of tasks) {
    const bar = {
      from: Math.max(0, minutesBetween(now, task.start)),
      to: Math.max(0, minutesBetween(now, task.end)),
      hands: task.attention !== 'unattended',
      nearby: task.attention === 'nearby',
    };
    if (!bar.hands && last !== '') rowOf(last).bars.push(bar);
    for (const name of bar.hands ? task.hands : []) {
      rowOf(name).bars.push(bar);
      last = name;
    }
  }
  return [...rows.values()];
}

/** Rest of today as one row for each hand, so that gaps and overlaps are seen. The list below it says the same. */
export function DayChart({ tasks, household }: { tasks: TaskView[]; household: HouseholdView }) {
  const [width, ref] = useWidth();
  const rows = chartRows(tasks, household.now);
  const start = minutesBetween(`${household.now.slice(0, 10)}T00:00`, household.now);
  const last = Math.max(60, ...rows.flatMap((row) => row.bars.map((bar) => bar.to)));
  const longest = Math.min(last, kDay - start); // what cures for a week is not a matter of today
  const x = (minutes: number): number => (width * Math.min(minutes, longest)) / longest;
  const height = rows.length * kRow + 22;
  return (
    <div class="day-chart" ref={ref} aria-hidden="true">
      {width > 0 && rows.length > 0 && (
        <svg viewBox={`0 0 ${width} ${height}`} width="100%" height={height}>
          {hours(start, longest, width).map((minutes) => (
            <g key={minutes}>
              <line class="chart-hour" x1={x(minutes)} x2={x(minutes)} y1="18" y2={height} />
              <text class="chart-words" x={x(minutes)} y="13" text-anchor="middle">
                {clockWords(start + minutes, household.units).replace(':00', '')}
              </text>
            </g>
          ))}
          {rows.map((row, i) => (
            <g key={row.name} transform={`translate(0 ${22 + i * kRow})`}>
              <text class="chart-name" x="0" y="15">
                {row.name}
              </text>
              {row.bars.map((bar, j) => (
                <rect
                  key={j}
                  class={bar.nearby ? 'chart-nearby' : bar.hands ? 'chart-hands' : 'chart-alone'}
                  x={x(bar.from) + 1}
                  width={Math.max(2, x(bar.to) - x(bar.from) - 2)}
                  y={bar.hands ? kName : kName + kBar + 4}
                  height={bar.hands ? kBar : kThin}
                />
              ))}
            </g>
          ))}
        </svg>
      )}
    </div>
  );
}

/** Full hours to mark: every one, second or third, as the room allows. */
export function hours(start: number, longest: number, width: number): number[] {
  const each = [1, 2, 3, 6].find((n) => (width * 60 * n) / longest > 52) ?? 12;
  const out: number[] = [];
  for (let hour = Math.ceil(start / 60); hour * 60 <= start + longest; hour += 1) {
    const at = hour * 60 - start;
    if (hour % each === 0 && (at * width) / longest < width - 18) out.push(at);
  }
  return out;
}
