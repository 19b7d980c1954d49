import type { ProbeSeries } from '../http/shapes.ts';
import { moment } from '../words/times.ts';
import { amount } from '../words/units.ts';

/** Least and most since this person last looked. */
interface SinceLookedProps {
  series: ProbeSeries;
  at: number;
  zone: string;
  /** On the probe's own page there is room to say when each was. */
  times?: boolean;
}

export function SinceLookedLine({ series, at, zone, times = false }: SinceLookedProps) {
  const looked = series.sinceLooked ?? null;
  if (looked === null) return null;
  const say = (v: number): string => amount(v, series.quantity, series.unit);
  const when = (iso: string): string => moment(Date.parse(iso), at, zone);
  return (
    <span class="since-looked">
      {say(looked.least)}
      {times && <span class="muted"> ({when(looked.leastAt)})</span>} to {say(looked.most)}
      {times && <span class="muted"> ({when(looked.mostAt)})</span>}{' '}
      <span class="muted">since {when(looked.since)}</span>
    </span>
  );
}
