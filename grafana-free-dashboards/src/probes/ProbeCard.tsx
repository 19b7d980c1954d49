import type { ComponentChildren } from 'preact';
import { Link } from '../house/Link.tsx';
import type { ProbeSeries, ProbeView } from '../http/shapes.ts';
import { quantityWord } from '../words/standing.ts';
import { moment, span } from '../words/times.ts';
import { amount } from '../words/units.ts';
import { Evidence } from './Evidence.tsx';
import { isOwn, marksOf } from './rank.ts';
import { SinceLookedLine } from './SinceLookedLine.tsx';
import { ownFacts } from './words.ts';

interface ProbeCardProps {
  probe: ProbeView;
  zone: string;
  at: number;
  /** Whether the incubator is said, with a link to it. */
  linked?: boolean;
  children?: ComponentChildren;
}

/** One probe: its name, where it is, what it said last and when, and whatever is wrong with it, in words. */
export function ProbeCard({ probe, zone, at, linked = false, children }: ProbeCardProps) {
  const marks = marksOf(probe);
  const facts = ownFacts(probe, at, zone);
  return (
    <li class="probe">
      <p class="probe-name">
        <Link to={`/probes/${encodeURIComponent(probe.key)}`} class="probe-link">
          {probe.name ?? probe.key}
        </Link>
        <span class="muted">
          <Place probe={probe} linked={linked} />
        </span>
      </p>
      <ul class="probe-series">
        {probe.series
          .filter((s) => !isOwn(s))
          .map((series) => (
            <li key={series.quantity}>
              <span class={`probe-value ${series.quality}`}>
                <span class="unseen">{quantityWord(series.quantity)} </span>
                {amount(series.quality === 'good' ? series.value : null, series.quantity, series.unit)}
              </span>{' '}
              <span class="muted">{heardWords(series, at, zone)}</span>
              <SinceLookedLine series={series} at={at} zone={zone} />
            </li>
          ))}
      </ul>
      {marks.length > 0 && (
        <ul class="marks" aria-label="Marks">
          {marks.map((mark) => (
            <li key={mark}>{mark}</li>
          ))}
        </ul>
      )}
      <Evidence troubles={probe.troubles ?? []} unitOf={(q) => unitIn(probe, q)} zone={zone} at={at} />
      {facts.length > 0 && <p class="probe-facts">{facts.join(' · ')}</p>}
      {children}
    </li>
  );
}

function Place({ probe, linked }: { probe: ProbeView; linked: boolean }) {
  if (probe.incubator === null) return null;
  const rest = placeParts(probe);
  return (
    <>
      {linked && (
        <Link to={`/incubators/${encodeURIComponent(probe.incubator)}`} class="place-link">
          {probe.incubatorName ?? probe.incubator}
        </Link>
      )}
      {linked && rest.length > 0 ? ', ' : ''}
      {rest.join(', ')}
    </>
  );
}

/** Where it lies, and in which tub unless those words say so already. */
export function placeParts(probe: Pick<ProbeView, 'where' | 'tub' | 'tubName'>): string[] {
  const where = probe.where ?? '';
  const tub = probe.tub == null ? '' : tubWord(probe);
  const said = where
    .toLowerCase()
    .split(/[^\p{L}\p{N}]+/u)
    .join(' ');
  const parts = [where];
  if (tub !== '' && !` ${said} `.includes(` ${tub.toLowerCase()} `)) parts.push(`in ${tub}`);
  return parts.filter((w) => w !== '');
}

/** A tub goes by what is written on it: "tub 2", "Tub 40", "blue box". */
export function tubWord(probe: Pick<ProbeView, 'tub' | 'tubName'>): string {
  const name = probe.tubName ?? probe.tub ?? '';
  return /^\d+$/.test(name) ? `tub ${name}` : name;
}

export const unitIn = (probe: ProbeView, quantity: string): string =>
  probe.series.find((s) => s.quantity === quantity)?.unit ?? '';

export function heardWords(series: ProbeSeries, at: number, zone: string): string {
  if (series.arrivedAt === null) return 'nothing heard';
  const arrived = Date.parse(series.arrivedAt);
  const ago = at - arrived;
  const when = ago < 90_000 ? 'just now' : ago < 3_600_000 ? `${span(ago)} ago` : moment(arrived, at, zone);
  const last =
    series.quality === 'good' ? '' : `, last ${amount(series.value, series.quantity, series.unit)}`;
  return `${when}${last}`;
}
