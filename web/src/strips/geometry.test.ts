import { describe, expect, it } from 'vitest';

import { day } from '../../tests/fixtures';
import { across, labelled, placedMarks, scaleFor, shareAt, stroke, ticks } from './geometry';

const plums = day.strips[1]!;
const squash = day.strips.at(-1)!;

describe('a strip', () => {
  it('shows a week at least and four weeks at most, the same for every lot', () => {
    expect(scaleFor([plums], 358).days).toBe(7);
    expect(scaleFor([plums, squash], 358).days).toBe(28);
  });
  it('begins now at the left edge, ends at the right one, and gives near days more room', () => {
    const scale = scaleFor([squash], 358);
    expect(across(scale, 0)).toBe(0);
    expect(across(scale, 28)).toBe(358);
    expect(across(scale, 200)).toBe(358);
    expect(across(scale, 1) * 28).toBeGreaterThan(358 * 2);
  });
  it('reads a share between two steps, and keeps the last one', () => {
    expect(shareAt([1, 0.5, 0], 0.5, 0.25)).toBe(0.75);
    expect(shareAt([1, 0.5], 0.5, 9)).toBe(0.5);
    expect(shareAt([], 0.5, 1)).toBe(0);
  });
  it('is as tall as the share, and stops where nothing usable is left', () => {
    const scale = { days: 8, width: 100 };
    const path = stroke([1, 0.5, 0, 0, 0, 0, 0, 0, 0], 1, scale, 20);
    expect(path.startsWith('M0 0L')).toBe(true); // whole at now: from edge to edge
    expect(path.endsWith('0 20Z')).toBe(true);
    const xs = path.match(/[\d.]+(?= )/g)!.map(Number);
    expect(Math.max(...xs)).toBe(across(scale, 2)); // gone after two days: nothing is drawn beyond
  });
  it('draws a mark wide enough to be seen, and none beyond its reach', () => {
    const scale = { days: 7, width: 358 };
    const marked = {
      ...plums,
      marks: [
        { from: 0.1, to: 0.1, title: 'Move', kind: 'hold' as const },
        { from: 9, to: 10, title: 'Can', kind: 'stage' as const },
      ],
    };
    const marks = placedMarks(marked, scale, 6);
    expect(marks).toHaveLength(1);
    expect(marks[0]?.width).toBe(6);
  });
  it('labels only as many days as have room', () => {
    const narrow = labelled(ticks({ days: 28, width: 340 }), 46);
    expect(narrow[0]?.days).toBe(0);
    for (let i = 1; i < narrow.length; i += 1) expect(narrow[i]!.x - narrow[i - 1]!.x).toBeGreaterThanOrEqual(46);
  });
});
