import { useId } from 'preact/hooks';

import type { StripView } from '../api/types';
import { dayNumber, minuteOfDay, minutesBetween } from '../shared/format';
import { t } from '../shared/texts';
import { across, placedMarks, stroke, ticks, tones, type Scale } from './geometry';

const kHeight = 30;
/** Marks stand out of the stroke above and below, so that they are seen in black too. */
const kOver = 5;
const kTall = kHeight + 2 * kOver;

/**
 * One lot as a stroke that begins now and runs dry: solid where it is surely usable, hatched where it may be,
 * planned stages as solid blocks, a cut where a hold stretches it, a bar where a hard limit ends it.
 */
export function Strip({ strip, scale, now }: { strip: StripView; scale: Scale; now: string }) {
  const id = useId();
  const end = hardEnd(strip, now, scale);
  return (
    <svg
      class="strip"
      viewBox={`0 0 ${scale.width} ${kTall}`}
      height={kTall}
      width="100%"
      preserveAspectRatio="none"
      role="img"
      aria-label={t.strips.spoken(strip)}
    >
      <defs>
        <linearGradient id={`${id}tone`} x1="0" x2={scale.width} gradientUnits="userSpaceOnUse">
          {tones(strip, scale).map(({ at, tone }) => (
            <stop key={at} offset={at} stop-color="var(--ink)" stop-opacity={tone} />
          ))}
        </linearGradient>
        <pattern id={`${id}hatch`} width="5" height="5" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">
          <line x1="0" y1="0" x2="0" y2="5" stroke="var(--ink)" stroke-width="1.6" />
        </pattern>
        <clipPath id={`${id}clip`}>
          <rect x="0" y="0" width={end ?? scale.width} height={kTall} />
        </clipPath>
      </defs>
      {ticks(scale).map((tick) => (
        <line key={tick.days} class="strip-tick" x1={tick.x} x2={tick.x} y1="0" y2={kTall} />
      ))}
      <g transform={`translate(0 ${kOver})`} clip-path={`url(#${id}clip)`}>
        <path
          class="strip-maybe"
          d={stroke(strip.usable_high, strip.step_days, scale, kHeight)}
          fill={`url(#${id}hatch)`}
        />
        <path class="strip-back" d={stroke(strip.usable_low, strip.step_days, scale, kHeight)} />
        <path d={stroke(strip.usable_low, strip.step_days, scale, kHeight)} fill={`url(#${id}tone)`} />
      </g>
      {placedMarks(strip, scale, 6).map((mark, i) =>
        mark.kind === 'hold' ? (
          <Break key={i} x={mark.x} />
        ) : (
          <rect
            key={i}
            class={mark.kind === 'pick' ? 'strip-pick' : 'strip-stage'}
            x={mark.x}
            y="1"
            width={mark.width}
            height={kTall - 2}
          />
        ),
      )}
      {end !== null && (
        <g class="strip-end">
          <line x1={end} x2={end} y1="0" y2={kTall} />
          <line x1={end + 4} x2={end + 4} y1="0" y2={kTall} />
        </g>
      )}
    </svg>
  );
}

/** The cut of a hold: from here on the stroke lasts longer. */
function Break({ x }: { x: number }) {
  const slant = 5;
  const gap = 7;
  const edge = (at: number): string => `M${at + slant} 0L${at} ${kTall}`;
  return (
    <g class="strip-break">
      <path class="strip-gap" d={`M${x + slant} 0L${x + slant + gap} 0L${x + gap} ${kTall}L${x} ${kTall}Z`} />
      <path d={edge(x)} />
      <path d={edge(x + gap)} />
    </g>
  );
}

/** Where a hard limit stands, or null when there is none in reach. */
function hardEnd(strip: StripView, now: string, scale: Scale): number | null {
  if (!strip.hazard_by || Number.isNaN(dayNumber(strip.hazard_by)) || Number.isNaN(minuteOfDay(strip.hazard_by))) {
    return null;
  }
  const days = minutesBetween(now, strip.hazard_by) / 1440;
  return days <= scale.days ? across(scale, days) : null;
}
