import type { EggView } from '../../http/clutchShapes.ts';
import { drawable, pencil, UNLIT } from '../../tint/colour.ts';
import { eggPath } from './plan.ts';
import { lookOf } from './shape.ts';

interface EggShapeProps {
  egg: EggView;
  x: number;
  y: number;
  rx: number;
  ry: number;
  id: string;
  chosen: boolean;
}

/** An egg as it lies: its light, its vessels, its state by form, and the number pencilled on it. */
export function EggShape({ egg, x, y, rx, ry, id, chosen }: EggShapeProps) {
  const look = lookOf(egg.status);
  const lit = (look.glows || egg.status === 'not looked at') && egg.colour !== null;
  const colour = lit ? drawable(egg.colour) : UNLIT;
  const outline = eggPath(x, y, rx, ry);
  return (
    <g class={`egg ${egg.status.replaceAll(' ', '-')} ${chosen ? 'chosen' : ''}`}>
      {lit && look.glows && <path class="egg-halo" d={eggPath(x, y, rx * 1.32, ry * 1.28)} fill={colour} />}
      <path
        class={lit ? 'egg-body' : 'shell-body'}
        d={outline}
        {...(lit ? { fill: `url(#${id}-${colour.slice(1)})` } : {})}
      />
      {lit && <Veins egg={egg} x={x} y={y} rx={rx} ry={ry} />}
      {look.outline !== 'none' && <path class={`shell ${look.outline}`} d={outline} />}
      <Mark mark={look.mark} x={x} y={y} rx={rx} ry={ry} />
      <text
        class={`egg-number ${lit ? '' : 'dull'}`}
        x={x}
        y={y + rx * 0.3}
        text-anchor="middle"
        font-size={numberSize(egg.number, rx)}
        {...(lit ? { fill: pencil(colour) } : {})}
      >
        {egg.number}
      </text>
      {chosen && <path class="egg-ring" d={eggPath(x, y, rx * 1.28, ry * 1.24)} />}
    </g>
  );
}

/** As large as fits the shell, with three digits too. */
export function numberSize(number: number, rx: number): number {
  const digits = String(number).length;
  return Math.round(Math.min(22, (digits < 3 ? 0.86 : 0.66) * rx) * 10) / 10;
}

interface At {
  x: number;
  y: number;
  rx: number;
  ry: number;
}

/** Vessels keep to the upper and lower part of the shell, so that the number stays free. */
function Veins({ egg, x, y, rx, ry }: { egg: EggView } & At) {
  if (egg.veins === null || egg.veins === 'none' || egg.status === 'pipped') return null;
  const at = (dx: number, dy: number): string => `${(x + dx * rx).toFixed(1)} ${(y + dy * ry).toFixed(1)}`;
  if (egg.veins === 'spot')
    return <path class="vein-spot" d={eggPath(x, y - ry * 0.62, rx * 0.14, ry * 0.11)} />;
  if (egg.veins === 'ring') return null;
  const one = `M${at(0, -0.85)}Q${at(-0.3, -0.6)} ${at(-0.62, -0.42)}M${at(0, -0.85)}Q${at(0.25, -0.6)} ${at(0.6, -0.5)}`;
  const more = `M${at(-0.3, -0.62)}Q${at(-0.72, -0.5)} ${at(-0.82, -0.1)}M${at(0.3, -0.62)}Q${at(0.72, -0.4)} ${at(0.84, 0)}M${at(-0.5, 0.62)}Q${at(-0.1, 0.55)} ${at(0.1, 0.85)}M${at(0.1, 0.66)}Q${at(0.4, 0.6)} ${at(0.62, 0.5)}`;
  return (
    <path
      class={`veins ${egg.veins === 'fading' ? 'fading' : ''}`}
      d={egg.veins === 'spreading' ? one : one + more}
    />
  );
}

function Mark({ mark, x, y, rx, ry }: { mark: string } & At) {
  switch (mark) {
    case 'stroke':
      return (
        <path
          class="egg-mark"
          d={`M${x - rx * 0.62} ${y + ry * 0.62}L${x - rx * 0.26} ${y + ry * 0.3}M${x + rx * 0.26} ${y - ry * 0.34}L${x + rx * 0.62} ${y - ry * 0.66}`}
        />
      );
    case 'slit':
      return (
        <path
          class="egg-mark slit"
          d={`M${x - rx * 0.5} ${y - ry * 0.56}l${rx * 0.25} ${ry * 0.14}l${rx * 0.25} ${-ry * 0.14}l${rx * 0.25} ${ry * 0.14}l${rx * 0.25} ${-ry * 0.14}`}
        />
      );
    case 'open':
      return (
        <path
          class="egg-mark open"
          d={`M${x - rx * 0.72} ${y - ry * 0.56}l${rx * 0.36} ${ry * 0.2}l${rx * 0.36} ${-ry * 0.2}l${rx * 0.36} ${ry * 0.2}l${rx * 0.36} ${-ry * 0.2}`}
        />
      );
    case 'question':
      return (
        <text
          class="egg-question"
          x={x + rx * 0.72}
          y={y - ry * 0.5}
          text-anchor="middle"
          font-size={rx * 0.72}
        >
          ?
        </text>
      );
    default:
      return null;
  }
}
