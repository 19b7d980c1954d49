import { useId } from 'preact/hooks';
import { day } from '../words/times.ts';
import { amount } from '../words/units.ts';
import type { Stretch, Strip } from './shapes.ts';
import { drawStrip } from './stripPath.ts';

interface StripViewProps {
  strip: Strip;
  from: number;
  to: number;
  stretches: readonly Stretch[];
  /** Number of the first stretch given, for its mark. */
  firstNumber?: number;
  height: number;
  label: string;
  /** Zone in which both ends are dated; a piece of a strip is dated by the words above it. */
  ends?: string;
}

const WIDTH = 640;

/** The climate of a clutch, or a piece of it; what was out of band is hatched and numbered, so that it holds in print. */
export function StripView({
  strip,
  from,
  to,
  stretches,
  firstNumber = 1,
  height,
  label,
  ends,
}: StripViewProps) {
  const id = useId().replaceAll(':', '');
  const drawn = drawStrip(strip, from, to, WIDTH, height);
  return (
    <div class="review-strip">
      <svg viewBox={`0 -14 ${WIDTH} ${height + 16}`} role="img" aria-label={label} preserveAspectRatio="none">
        <defs>
          <pattern id={id} width="5" height="5" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">
            <path d="M0 0V5" class="hatch" />
          </pattern>
        </defs>
        {stretches.map((stretch) => {
          const x = drawn.x(Date.parse(stretch.from));
          const width = Math.max(3, drawn.x(Date.parse(stretch.to)) - x);
          return <rect key={stretch.from} x={x} y={0} width={width} height={height} fill={`url(#${id})`} />;
        })}
        {drawn.ribbons.map((d) => (
          <path key={d} d={d} class="ribbon" />
        ))}
        {[drawn.high, drawn.low].map(
          (limit) =>
            limit !== null && (
              <path
                key={limit}
                d={`M0 ${drawn.y(limit)}H${WIDTH}`}
                class="limit"
                vector-effect="non-scaling-stroke"
              />
            ),
        )}
      </svg>
      {/* Words are beside the drawing, not in it: they keep their size whatever its width. */}
      {ends !== undefined && (
        <>
          <p class="strip-ends muted">
            <span>laid {day(drawn.from, ends)}</span>
            <span>{day(drawn.to, ends)}</span>
          </p>
          <div class="strip-marks" aria-hidden="true">
            {stretches.map((stretch, i) => (
              <span
                key={stretch.from}
                style={{
                  left: `${((drawn.x(Date.parse(stretch.from)) + drawn.x(Date.parse(stretch.to))) / 2 / WIDTH) * 100}%`,
                }}
              >
                {firstNumber + i}
              </span>
            ))}
          </div>
          <p class="strip-limits muted">
            {drawn.low !== null || drawn.high !== null
              ? `Dotted: the band, ${[drawn.low, drawn.high].map((l) => (l === null ? 'open' : amount(l, 'temperature', 'Cel'))).join(' to ')}. Hatched: out of it.`
              : 'There is no band.'}
          </p>
        </>
      )}
    </div>
  );
}
