import type { LittleEgg } from '../http/clutchShapes.ts';
import { drawable } from '../tint/colour.ts';
import { eggPath, eggSize } from './eggplan/plan.ts';
import { lookOf } from './eggplan/shape.ts';

const WIDE = 100;

/** The eggs of a clutch, small, where they lie: the light of a tub. What they say is said in words beside it. */
export function LittleEggs({ eggs, aspect = 2 }: { eggs: readonly LittleEgg[]; aspect?: number }) {
  const size = eggSize(eggs, aspect);
  const rx = size.rx * WIDE;
  const high = WIDE / aspect;
  return (
    <svg class="little-eggs" viewBox={`0 0 ${WIDE} ${high}`} aria-hidden="true" focusable="false">
      {eggs.map((egg) => {
        const look = lookOf(egg.status);
        const [x, y] = [egg.x * WIDE, egg.y * high];
        const lit = look.glows || (egg.status === 'not looked at' && egg.colour !== null);
        return (
          <g key={egg.number} class={`little ${egg.status.replaceAll(' ', '-')}`}>
            <path
              class={lit ? 'egg-body' : `shell ${look.outline}`}
              d={eggPath(x, y, rx, rx * 1.24)}
              {...(lit ? { fill: drawable(egg.colour) } : {})}
            />
            {look.mark === 'stroke' && (
              <path class="egg-mark" d={`M${x - rx * 0.8} ${y + rx * 0.9}L${x + rx * 0.8} ${y - rx * 0.9}`} />
            )}
          </g>
        );
      })}
    </svg>
  );
}
