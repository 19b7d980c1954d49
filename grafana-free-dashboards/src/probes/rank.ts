import type { ProbeSeries, ProbeView } from '../http/shapes.ts';
import { dateAt } from '../words/localdate.ts';
import { span } from '../words/times.ts';

/** Quantities that tell of the probe itself and not of the incubator. */
const OWN = new Set(['battery', 'signal']);

export const isOwn = (series: ProbeSeries): boolean => OWN.has(series.quantity);

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

export function isOverdue(probe: ProbeView, at: number, zone: string): boolean {
  return probe.calibrationDue != null && probe.calibrationDue < dateAt(at, zone);
}

export function needsLook(probe: ProbeView): boolean {
  return marksOf(probe).length > 0 || (probe.troubles ?? []).length > 0;
}

/** What needs a look first, then what is due, then the rest as the room stands: by incubator and name. */
export function lookFirst(probes: readonly ProbeView[], at: number, zone: string): ProbeView[] {
  const rank = (p: ProbeView): number =>
    p.series.some((s) => s.quality !== 'good' && !isOwn(s)) || p.online === false
      ? 0
      : (p.troubles ?? []).length > 0
        ? 1
        : needsLook(p)
          ? 2
          : isOverdue(p, at, zone)
            ? 3
            : 4;
  const place = (p: ProbeView): string => `${p.incubatorName ?? p.incubator ?? ''}\n${p.name ?? p.key}`;
  return [...probes].sort((a, b) => rank(a) - rank(b) || place(a).localeCompare(place(b)));
}
