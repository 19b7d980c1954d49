import type { HistorySeries } from '../http/shapes.ts';
import { DASHES } from './paint.ts';

const DASH_WORDS = ['full line', 'dashed line', 'dotted line', 'dash and dot'];

/** Which line is whose: by its dashes and in words, never by colour alone. */
export function Legend({ series }: { series: readonly HistorySeries[] }) {
  if (series.length < 2) return null;
  return (
    <ul class="legend" aria-label="The lines">
      {series.map((s, i) => (
        <li key={`${s.probe} ${s.where ?? ''}`}>
          <svg width="34" height="10" aria-hidden="true" focusable="false">
            <line
              x1="0"
              x2="34"
              y1="5"
              y2="5"
              stroke-dasharray={DASHES[i % DASHES.length]?.join(' ') || undefined}
            />
          </svg>
          <span>
            {s.where ?? s.probe}
            {s.where !== null && <span class="muted"> ({s.probe})</span>}
            <span class="unseen">: {DASH_WORDS[i % DASH_WORDS.length]}</span>
          </span>
        </li>
      ))}
    </ul>
  );
}
