import type { StripMark, StripView } from '../api/types';

/** Shapes of fading strips: pure numbers and path text, so that they can be tested without a browser. */

/** Near days get more room than far ones: what cannot wait is what a person must be able to read. */
const kNearness = 0.62;
const kLeastDays = 7;
const kMostDays = 28;
/** A share too small to draw or to use. */
const kGone = 0.02;

export interface Scale {
  /** Days from now at the right edge. */
  days: number;
  width: number;
}

/** One scale for all strips of a list, so that they can be compared. */
export function scaleFor(strips: StripView[], width: number): Scale {
  const longest = Math.max(0, ...strips.map((strip) => strip.days_left.high));
  return { days: Math.min(kMostDays, Math.max(kLeastDays, Math.ceil(longest))), width };
}

/** Across from the left edge, for a number of days from now; held to the strip. */
export function across(scale: Scale, days: number): number {
  const share = Math.min(1, Math.max(0, days / scale.days));
  return Math.round(scale.width * share ** kNearness * 10) / 10;
}

export interface Tick {
  days: number;
  x: number;
}

export function ticks(scale: Scale): Tick[] {
  return [0, 1, 2, 4, 7, 14, 21, 28]
    .filter((days) => days <= scale.days)
    .map((days) => ({ days, x: across(scale, days) }));
}

/** Ticks that have room for a word: the first, and each that stands clear of the one before it. */
export function labelled(all: Tick[], least: number): Tick[] {
  const kept: Tick[] = [];
  for (const tick of all) {
    const before = kept.at(-1);
    if (!before || tick.x - before.x >= least) kept.push(tick);
  }
  return kept;
}

/** The share at a time, drawn straight between two steps; after the last step it stays as it is. */
export function shareAt(shares: number[], stepDays: number, days: number): number {
  if (shares.length === 0) return 0;
  const at = Math.max(0, days / stepDays);
  const low = Math.min(shares.length - 1, Math.floor(at));
  const high = Math.min(shares.length - 1, low + 1);
  const a = shares[low] ?? 0;
  const b = shares[high] ?? 0;
  return clamp(a + (b - a) * (at - low));
}

/** A brush stroke that runs dry: as tall as the share that is usable, both ways from its middle line. */
export function stroke(shares: number[], stepDays: number, scale: Scale, height: number): string {
  const middle = height / 2;
  const top: string[] = [];
  const bottom: string[] = [];
  for (const days of samples(stepDays, scale)) {
    const share = shareAt(shares, stepDays, days);
    const half = share < kGone ? 0 : (share * height) / 2;
    const x = across(scale, days);
    top.push(`${x} ${round(middle - half)}`);
    bottom.unshift(`${x} ${round(middle + half)}`);
    if (half === 0) break;
  }
  return `M${[...top, ...bottom].join('L')}Z`;
}

/** How dark the stroke is along its length: stops of a gradient, 0..1 across, from the likely share. */
export function tones(strip: StripView, scale: Scale): { at: number; tone: number }[] {
  return samples(strip.step_days, scale).map((days) => ({
    at: scale.width === 0 ? 0 : round(across(scale, days) / scale.width, 1000),
    tone: round(0.2 + 0.8 * shareAt(strip.usable, strip.step_days, days), 100),
  }));
}

export interface PlacedMark {
  kind: StripMark['kind'];
  title: string;
  x: number;
  width: number;
}

/** Marks in reach, each wide enough to be seen. */
export function placedMarks(strip: StripView, scale: Scale, least: number): PlacedMark[] {
  return strip.marks
    .filter((mark) => mark.from <= scale.days)
    .map((mark) => {
      const x = across(scale, mark.from);
      const width = Math.max(least, across(scale, mark.to) - x);
      return { kind: mark.kind, title: mark.title, x: Math.min(x, scale.width - least), width };
    });
}

function samples(stepDays: number, scale: Scale): number[] {
  const step = Math.min(stepDays, scale.days / 8);
  const count = Math.ceil(scale.days / step);
  return Array.from({ length: count + 1 }, (_, i) => Math.min(scale.days, i * step));
}

function clamp(share: number): number {
  return Math.min(1, Math.max(0, share));
}

function round(value: number, to = 10): number {
  return Math.round(value * to) / to;
}
