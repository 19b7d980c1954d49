import type { LittleEgg } from '../http/clutchShapes.ts';
import { drawable } from '../tint/colour.ts';
import { eggPath, eggSize } from './eggplan/plan.ts';
import { lookOf } from './eggplan/shape.ts';

const WIDE = 100;
/** In a small clutch the eggs stay eggs beside those of a large one. */
const LARGEST = 0.042;

/** The eggs of a clutch, small, where they lie: the light of a tub. What they say is said in words beside it. */
export function LittleEggs({ eggs, aspect = 2.4 }: { eggs: readonly LittleEgg[]; aspect?: number }) {
  const rx = Math.min(eggSize(eggs, aspect).rx, LARGEST) * WIDE;
  const high = WIDE / aspect;
  // No egg is cut at the tub's side, however close to it the egg lies.
  const [sides, ends] = [rx + 1, rx * 1.24 + 1];
  return (
    <svg class="little-eggs" viewBox={`0 0 ${WIDE} ${high}`} aria-hidden="true" focusable="false">
      {eggs.map((egg) => {
        const look = lookOf(egg.status);
        const x = sides + egg.x * (WIDE - 2 * sides);
        const y = ends + egg.y * (high - 2 * ends);
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
