import type { QuantityNow } from '../http/shapes.ts';
import { severityOf } from '../words/standing.ts';
import { thermometer } from './thermometer.ts';

const LENGTH = 100;

/** A second quantity of a cabinet as a lying scale: the light stretch is its band, the pointer is now. */
export function LevelView({ now }: { now: QuantityNow }) {
  const drawn = thermometer(now.band, now.quantity, now.quality === 'good' ? now.value : null, [], LENGTH);
  const share = (y: number): string => `${LENGTH - y}%`;
  const shape = drawn.pointer?.shape;
  return (
    <svg class={`level ${severityOf(now)}`} height="12" aria-hidden="true">
      <line x1="0" x2="100%" y1="3" y2="3" />
      {drawn.band && (
        <line class="scale-band" x1={share(drawn.band.bottom)} x2={share(drawn.band.top)} y1="3" y2="3" />
      )}
      {drawn.pointer && (
        <svg x={share(drawn.pointer.y)} y="0" overflow="visible" aria-hidden="true">
          {shape === 'level' && <path class="pointer" d="M0 4l5 8h-10z" />}
          {shape === 'down' && <path class="pointer out" d="M0 13l7 -12h-14z" />}
          {shape === 'up' && <path class="pointer out" d="M0 0l7 12h-14z" />}
        </svg>
      )}
    </svg>
  );
}
