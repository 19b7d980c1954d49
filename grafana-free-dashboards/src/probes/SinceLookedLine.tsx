import type { ProbeSeries } from '../http/shapes.ts';
import { moment } from '../words/times.ts';
import { amount } from '../words/units.ts';

/** Least and most since this person last looked. */
export function SinceLookedLine({ series, at, zone }: { series: ProbeSeries; at: number; zone: string }) {
  const looked = series.sinceLooked ?? null;
  if (looked === null) return null;
  const say = (v: number): string => amount(v, series.quantity, series.unit);
  const when = (iso: string): string => moment(Date.parse(iso), at, zone);
  return (
    <span class="since-looked">
      {say(looked.least)} <span class="muted">({when(looked.leastAt)})</span> to {say(looked.most)}{' '}
      <span class="muted">
        ({when(looked.mostAt)}) since {when(looked.since)}
      </span>
    </span>
  );
}
