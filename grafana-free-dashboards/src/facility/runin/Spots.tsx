import type { RunIn } from '../../http/probeShapes.ts';
import { difference } from '../../words/units.ts';
import { placeSpots } from './cabinetSpots.ts';

const WIDTH = 220;
const HEIGHT = 250;

/** Hot and cold spots drawn where the probes are: a triangle up is warmer, down is cooler, a level is as the middle. */
export function Spots({ spots }: { spots: RunIn['spots'] }) {
  if (spots.length === 0) return <p class="muted">One probe alone shows no hot or cold spot.</p>;
  const placed = placeSpots(spots);
  return (
    <div class="spots">
      <svg viewBox={`0 0 ${WIDTH} ${HEIGHT}`} width={WIDTH} height={HEIGHT} aria-hidden="true">
        <path
          class="spots-case"
          d={`M2 ${HEIGHT - 2}V18a16 16 0 0 1 16-16h${WIDTH - 36}a16 16 0 0 1 16 16v${HEIGHT - 20}`}
        />
        {[0.36, 0.66].map((y) => (
          <line key={y} class="spots-shelf" x1="14" x2={WIDTH - 14} y1={y * HEIGHT} y2={y * HEIGHT} />
        ))}
        <line class="spots-floor" x1="0" x2={WIDTH} y1={HEIGHT - 2} y2={HEIGHT - 2} />
        {placed.map((p, i) => {
          const size = Math.min(13, 6 + Math.abs(spots[i]?.difference ?? 0) * 8);
          const level = Math.abs(spots[i]?.difference ?? 0) < 0.15;
          const x = p.x * WIDTH;
          const y = p.y * HEIGHT;
          const d = level
            ? `M${x - 10} ${y}h20`
            : p.warm
              ? `M${x} ${y - size}l${size} ${size * 1.7}h${-2 * size}z`
              : `M${x} ${y + size}l${size} ${-size * 1.7}h${-2 * size}z`;
          return (
            <g key={p.probe} class={level ? 'spot level' : p.warm ? 'spot warm' : 'spot cool'}>
              <path d={d} />
              <text
                x={x + (p.x > 0.6 ? -18 : 18)}
                y={y}
                dy="0.34em"
                text-anchor={p.x > 0.6 ? 'end' : 'start'}
              >
                {signed(spots[i]?.difference ?? 0)}
              </text>
            </g>
          );
        })}
      </svg>
      <ul class="spot-words">
        {spots.map((s) => (
          <li key={s.probe}>
            <strong>{nameOf(s)}</strong>{' '}
            {s.words.startsWith(nameOf(s)) ? s.words.slice(nameOf(s).length).trim() : s.words}
          </li>
        ))}
      </ul>
    </div>
  );
}

/** The service's words begin with the place too; it is said once. */
const nameOf = (spot: RunIn['spots'][number]): string => spot.where || spot.probe;

const signed = (v: number): string => `${v >= 0.05 ? '+' : ''}${difference(v, 'temperature', 'Cel')}`;
