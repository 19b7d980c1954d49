import type { ProbeTrouble } from '../http/probeShapes.ts';
import { moment } from '../words/times.ts';
import { amount, difference } from '../words/units.ts';
import { trackOf } from './track.ts';

interface EvidenceProps {
  troubles: readonly ProbeTrouble[];
  unitOf: (quantity: string) => string;
  zone: string;
  at: number;
}

const HEAD: Record<ProbeTrouble['kind'], string> = {
  stuck: 'Stuck',
  jump: 'Jumps',
  noise: 'Unsteady',
  disagrees: 'Disagrees',
  'outside the tub': 'Outside its tub',
};

/** What is wrong with the probe itself, with the readings that show it: small, but with their figures. */
export function Evidence({ troubles, unitOf, zone, at }: EvidenceProps) {
  if (troubles.length === 0) return null;
  return (
    <ul class="troubles" aria-label="Trouble in the probe itself">
      {troubles.map((t) => (
        <li key={`${t.kind} ${t.quantity}`}>
          <p>
            <strong>{HEAD[t.kind] ?? t.kind}.</strong> {t.words}{' '}
            <span class="muted">Since {moment(Date.parse(t.since), at, zone)}.</span>
          </p>
          <Track trouble={t} unit={unitOf(t.quantity)} zone={zone} at={at} />
        </li>
      ))}
    </ul>
  );
}

const WIDTH = 240;
const HEIGHT = 44;

function Track({
  trouble,
  unit,
  zone,
  at,
}: {
  trouble: ProbeTrouble;
  unit: string;
  zone: string;
  at: number;
}) {
  const track = trackOf(trouble.evidence, WIDTH, HEIGHT);
  if (track === null) return null;
  const say = (v: number): string =>
    trouble.kind === 'disagrees' ? difference(v, trouble.quantity, unit) : amount(v, trouble.quantity, unit);
  return (
    <figure class="track">
      <svg viewBox={`0 -3 ${WIDTH} ${HEIGHT + 6}`} preserveAspectRatio="none" aria-hidden="true">
        {track.paths.map((d) => (
          <path key={d} d={d} vector-effect="non-scaling-stroke" />
        ))}
      </svg>
      <figcaption>
        {trouble.kind === 'disagrees' ? 'Difference ' : ''}
        {say(track.least)} to {say(track.most)}, from {moment(track.from, at, zone)} to{' '}
        {moment(track.to, at, zone)}
      </figcaption>
    </figure>
  );
}
