import type { ComponentChildren } from 'preact';
import { Link } from '../house/Link.tsx';
import type { ProbeSeries, ProbeView } from '../http/shapes.ts';
import { moment, span } from '../words/times.ts';
import { amount } from '../words/units.ts';

interface ProbeCardProps {
  probe: ProbeView;
  zone: string;
  at: number;
  linked?: boolean;
  children?: ComponentChildren;
}

/** One probe: its name, where it is, what it said last and when, and whatever is wrong with it, in words. */
export function ProbeCard({ probe, zone, at, linked = false, children }: ProbeCardProps) {
  return (
    <li class="probe">
      <p class="probe-name">
        <strong>{probe.name ?? probe.key}</strong>{' '}
        {probe.incubator !== null && (
          <span class="muted">
            {linked ? (
              <Link to={`/incubators/${encodeURIComponent(probe.incubator)}`}>
                {probe.incubatorName ?? probe.incubator}
              </Link>
            ) : null}
            {linked && probe.where ? ', ' : ''}
            {probe.where}
          </span>
        )}
      </p>
      <ul class="probe-series">
        {probe.series.map((series) => (
          <li key={series.quantity}>
            <span class={`probe-value ${series.quality}`}>
              {amount(series.quality === 'good' ? series.value : null, series.quantity, series.unit)}
            </span>{' '}
            <span class="muted">{heardWords(series, at, zone)}</span>
          </li>
        ))}
      </ul>
      {marksOf(probe).length > 0 && (
        <ul class="marks" aria-label="Marks">
          {marksOf(probe).map((mark) => (
            <li key={mark}>{mark}</li>
          ))}
        </ul>
      )}
      {children}
    </li>
  );
}

export function heardWords(series: ProbeSeries, at: number, zone: string): string {
  if (series.arrivedAt === null) return 'nothing heard';
  const arrived = Date.parse(series.arrivedAt);
  const ago = at - arrived;
  const when = ago < 90_000 ? 'just now' : ago < 3_600_000 ? `${span(ago)} ago` : moment(arrived, at, zone);
  const last =
    series.quality === 'good' ? '' : `, last ${amount(series.value, series.quantity, series.unit)}`;
  return `${when}${last}`;
}

/** Everything that makes a value less than it seems, without doubles. */
export function marksOf(probe: ProbeView): string[] {
  const marks = new Set<string>();
  for (const series of probe.series) {
    if (series.quality !== 'good') marks.add(`${series.quantity} ${series.quality}`);
    if (series.saturated) marks.add(`${series.quantity} saturated: wet sensor or truly 100 %RH`);
    for (const mark of series.marks) {
      const told =
        mark === 'saturated' ||
        mark === 'faulty' ||
        mark === 'silent' ||
        // A probe without a clock is no trouble: most have none.
        mark === 'time of arrival' ||
        (probe.clockOffSeconds !== null && mark.startsWith('clock off'));
      if (!told) marks.add(mark);
    }
  }
  if (probe.clockOffSeconds !== null) {
    marks.add(
      `clock off by ${span(Math.abs(probe.clockOffSeconds) * 1000)}; its readings are kept at arrival time`,
    );
  }
  if (probe.online === false) marks.add('offline, as its last will said');
  return [...marks];
}
