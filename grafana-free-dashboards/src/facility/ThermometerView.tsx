import type { QuantityNow } from '../http/shapes.ts';
import { number, shown } from '../words/units.ts';
import { pathOf, thermometer } from './thermometer.ts';

const TRAIL = 100;

/** Trail on the left, ending at the pointer; the scale stands at "now". The cabinet's figures say the same in words. */
export function ThermometerView(props: { now: QuantityNow; height: number; figures: boolean }) {
  const { now, height, figures } = props;
  const drawn = thermometer(
    now.band,
    now.quantity,
    now.quality === 'good' ? now.value : null,
    now.lastHour,
    height,
  );
  const pad = 9;
  const box = height + pad * 2;
  const bar = 17;
  const width = figures ? 56 : 26;
  return (
    <div class="thermometer" aria-hidden="true">
      <svg
        aria-hidden="true"
        class="trail"
        viewBox={`0 ${-pad} ${TRAIL} ${box}`}
        height={box}
        preserveAspectRatio="none"
      >
        {drawn.band && (
          <rect
            class="trail-band"
            x="0"
            y={drawn.band.top}
            width={TRAIL}
            height={drawn.band.bottom - drawn.band.top}
          />
        )}
        {drawn.trail.map((run) => (
          <path key={run[0]?.x} d={pathOf(run, TRAIL)} vector-effect="non-scaling-stroke" />
        ))}
      </svg>
      <svg aria-hidden="true" class="scale" viewBox={`0 ${-pad} ${width} ${box}`} width={width} height={box}>
        <line class="scale-bar" x1={bar} x2={bar} y1="0" y2={height} />
        {drawn.band && (
          <line class="scale-band" x1={bar} x2={bar} y1={drawn.band.top} y2={drawn.band.bottom} />
        )}
        {figures &&
          drawn.limits.map((limit) => (
            <text key={limit.value} x={bar + 9} y={limit.y} dy="0.32em">
              {number(shown(limit.value, now.quantity), now.quantity === 'humidity' ? 0 : 1)}
            </text>
          ))}
        {drawn.pointer?.shape === 'level' && (
          <path class="pointer" d={`M${bar - 3} ${drawn.pointer.y}l-11 -6v12z`} />
        )}
        {drawn.pointer?.shape === 'up' && (
          <path class="pointer out" d={`M${bar} ${drawn.pointer.y - 9}l10 16h-20z`} />
        )}
        {drawn.pointer?.shape === 'down' && (
          <path class="pointer out" d={`M${bar} ${drawn.pointer.y + 9}l10 -16h-20z`} />
        )}
      </svg>
    </div>
  );
}
