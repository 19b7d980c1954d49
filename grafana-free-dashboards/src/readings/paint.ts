import type uPlot from 'uplot';
import type { BandLimits } from '../http/shapes.ts';
import type { ProbeColumns } from './columns.ts';

/** Dashes tell probes apart without colour. */
export const DASHES: number[][] = [[], [7, 4], [2, 3], [10, 3, 2, 3]];

export interface Colours {
  ribbon: string;
  line: string;
  limit: string;
  alert: string;
}

/** Draws ribbons, lines and band into the plot of the chart; what left the band is hatched as well as coloured. */
export function paint(
  u: uPlot,
  x: readonly number[],
  probes: readonly ProbeColumns[],
  band: BandLimits | null,
  colours: Colours,
): void {
  const { ctx } = u;
  const { left, top, width, height } = u.bbox;
  ctx.save();
  ctx.beginPath();
  ctx.rect(left, top, width, height);
  ctx.clip();
  const y = (v: number): number => u.valToPos(v, 'y', true);
  const highY = band?.warningHigh == null ? null : y(band.warningHigh);
  const lowY = band?.warningLow == null ? null : y(band.warningLow);

  if (highY !== null || lowY !== null) {
    ctx.globalAlpha = 0.07;
    ctx.fillStyle = colours.line;
    ctx.fillRect(left, highY ?? top, width, (lowY ?? top + height) - (highY ?? top));
    ctx.globalAlpha = 1;
    ctx.strokeStyle = colours.limit;
    ctx.lineWidth = devicePixelRatio;
    ctx.setLineDash([3 * devicePixelRatio, 4 * devicePixelRatio]);
    for (const at of [highY, lowY]) {
      if (at === null) continue;
      ctx.beginPath();
      ctx.moveTo(left, at);
      ctx.lineTo(left + width, at);
      ctx.stroke();
    }
    ctx.setLineDash([]);
  }

  for (const [i, probe] of probes.entries()) {
    const shape = outline(u, x, probe);
    ctx.globalAlpha = 0.34;
    ctx.fillStyle = colours.ribbon;
    ctx.fill(shape.ribbon);
    ctx.globalAlpha = 1;
    stroke(ctx, shape.line, colours.line, i);
    if (highY !== null) beyond(ctx, left, top, width, highY - top, shape, colours.alert, i);
    if (lowY !== null) beyond(ctx, left, lowY, width, top + height - lowY, shape, colours.alert, i);
  }
  ctx.restore();
}

interface Outline {
  ribbon: Path2D;
  line: Path2D;
}

/** The ribbon from lowest to highest and the line of means, broken at gaps. A lone bucket is drawn as a short stroke. */
function outline(u: uPlot, x: readonly number[], probe: ProbeColumns): Outline {
  const ribbon = new Path2D();
  const line = new Path2D();
  let run: number[] = [];
  const flush = (): void => {
    for (const [n, i] of run.entries()) {
      const px = u.valToPos(x[i] ?? 0, 'x', true);
      const top = u.valToPos(probe.max[i] ?? 0, 'y', true);
      const mean = u.valToPos(probe.mean[i] ?? 0, 'y', true);
      if (n === 0) {
        ribbon.moveTo(px, top);
        line.moveTo(px, mean);
        if (run.length === 1) line.lineTo(px + 2, mean);
      } else {
        ribbon.lineTo(px, top);
        line.lineTo(px, mean);
      }
    }
    for (const i of [...run].reverse()) {
      ribbon.lineTo(u.valToPos(x[i] ?? 0, 'x', true), u.valToPos(probe.min[i] ?? 0, 'y', true));
    }
    if (run.length > 0) ribbon.closePath();
    run = [];
  };
  for (const [i, mean] of probe.mean.entries()) {
    if (mean === null) flush();
    else if (mean !== undefined) run.push(i);
  }
  flush();
  return { ribbon, line };
}

function stroke(ctx: CanvasRenderingContext2D, line: Path2D, colour: string, probe: number): void {
  ctx.strokeStyle = colour;
  ctx.lineWidth = 1.6 * devicePixelRatio;
  ctx.lineJoin = 'round';
  ctx.setLineDash((DASHES[probe % DASHES.length] ?? []).map((d) => d * devicePixelRatio));
  ctx.stroke(line);
  ctx.setLineDash([]);
}

function beyond(
  ctx: CanvasRenderingContext2D,
  left: number,
  top: number,
  width: number,
  height: number,
  shape: Outline,
  colour: string,
  probe: number,
): void {
  if (height <= 0) return;
  ctx.save();
  ctx.beginPath();
  ctx.rect(left, top, width, height);
  ctx.clip();
  ctx.globalAlpha = 0.3;
  ctx.fillStyle = colour;
  ctx.fill(shape.ribbon);
  ctx.globalAlpha = 1;
  stroke(ctx, shape.line, colour, probe);
  ctx.clip(shape.ribbon);
  ctx.strokeStyle = colour;
  ctx.lineWidth = devicePixelRatio;
  ctx.beginPath();
  const step = 6 * devicePixelRatio;
  for (let x = left - height; x < left + width; x += step) {
    ctx.moveTo(x, top + height);
    ctx.lineTo(x + height, top);
  }
  ctx.stroke();
  ctx.restore();
}
