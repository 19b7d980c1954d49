import type uPlot from 'uplot';
import type { BandLimits } from '../http/shapes.ts';
import type { Columns, ProbeColumns } from './columns.ts';

/** Dashes tell probes apart without colour. */
export const DASHES: number[][] = [[], [7, 4], [2, 3], [10, 3, 2, 3]];

export interface Colours {
  ribbon: string;
  line: string;
  limit: string;
  alert: string;
}

export interface Painting {
  columns: Columns;
  band: BandLimits | null;
  /** What has not come yet, Unix seconds: drawn as such, because nothing drawn would look like a gap. */
  missing: [number, number][];
  colours: Colours;
}

/** Draws ribbons, lines and band into the plot of the chart; what left the band is hatched as well as coloured. */
export function paint(u: uPlot, { columns, band, missing, colours }: Painting): void {
  const { ctx } = u;
  const { left, top, width, height } = u.bbox;
  ctx.save();
  ctx.beginPath();
  ctx.rect(left, top, width, height);
  ctx.clip();
  const y = (v: number): number => u.valToPos(v, 'y', true);
  const highY = band?.warningHigh == null ? null : y(band.warningHigh);
  const lowY = band?.warningLow == null ? null : y(band.warningLow);
  paintBand(ctx, u.bbox, highY, lowY, colours);
  for (const [from, to] of missing) paintMissing(u, from, to, colours);

  const [first, last] = visible(columns.x, u.scales.x?.min ?? 0, u.scales.x?.max ?? 0);
  for (const [i, probe] of columns.probes.entries()) {
    const shape = outline(u, columns.x, probe, first, last);
    ctx.save();
    leaveOut(u, probe.gaps);
    ctx.globalAlpha = 0.34;
    ctx.fillStyle = colours.ribbon;
    ctx.fill(shape.ribbon);
    ctx.globalAlpha = 1;
    stroke(ctx, shape.line, colours.line, i);
    if (highY !== null) beyond(ctx, left, top, width, highY - top, shape, colours.alert, i);
    if (lowY !== null) beyond(ctx, left, lowY, width, top + height - lowY, shape, colours.alert, i);
    ctx.restore();
  }
  ctx.restore();
}

function paintBand(
  ctx: CanvasRenderingContext2D,
  { left, top, width, height }: uPlot.BBox,
  highY: number | null,
  lowY: number | null,
  colours: Colours,
): void {
  if (highY === null && lowY === null) return;
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

function paintMissing(u: uPlot, from: number, to: number, colours: Colours): void {
  const { left, top, width, height } = u.bbox;
  const a = Math.max(left, u.valToPos(from, 'x', true));
  const b = Math.min(left + width, u.valToPos(to, 'x', true));
  if (b <= a) return;
  const { ctx } = u;
  ctx.fillStyle = colours.limit;
  ctx.globalAlpha = 0.12;
  ctx.fillRect(a, top, b - a, height);
  ctx.globalAlpha = 1;
  ctx.font = `${13 * devicePixelRatio}px system-ui, sans-serif`;
  ctx.textAlign = 'center';
  if (b - a > 70 * devicePixelRatio) ctx.fillText('fetching…', (a + b) / 2, top + height / 2);
}

/** The buckets in view, and one on either side so that lines run on to the edge. */
export function visible(x: readonly number[], min: number, max: number): [number, number] {
  const before = (value: number): number => {
    let low = 0;
    let high = x.length;
    while (low < high) {
      const middle = (low + high) >> 1;
      if ((x[middle] ?? 0) < value) low = middle + 1;
      else high = middle;
    }
    return low;
  };
  return [Math.max(0, before(min) - 2), Math.min(x.length, before(max) + 2)];
}

/** Nothing is drawn over a gap: also where it is narrower than a bucket, it stays at least a pixel wide. */
function leaveOut(u: uPlot, gaps: readonly [number, number][]): void {
  const { left, top, width, height } = u.bbox;
  const out = new Path2D();
  let some = false;
  let edge = left;
  for (const [from, to] of gaps) {
    const a = u.valToPos(from / 1000, 'x', true);
    const b = Math.max(a + devicePixelRatio, u.valToPos(to / 1000, 'x', true));
    if (b < left || a > left + width) continue;
    some = true;
    if (a > edge) out.rect(edge, top, a - edge, height);
    edge = Math.max(edge, b);
  }
  if (!some) return;
  if (edge < left + width) out.rect(edge, top, left + width - edge, height);
  u.ctx.clip(out);
}

interface Outline {
  ribbon: Path2D;
  line: Path2D;
}

/** The ribbon from lowest to highest and the line of means, broken at gaps. A lone bucket is drawn as a short stroke. */
function outline(u: uPlot, x: readonly number[], probe: ProbeColumns, first: number, last: number): Outline {
  const ribbon = new Path2D();
  const line = new Path2D();
  let run: number[] = [];
  const px = (i: number): number => u.valToPos(x[i] ?? 0, 'x', true);
  const py = (v: number | null | undefined): number => u.valToPos(v ?? 0, 'y', true);
  const flush = (): void => {
    for (const [n, i] of run.entries()) {
      if (n === 0) {
        ribbon.moveTo(px(i), py(probe.max[i]));
        line.moveTo(px(i), py(probe.mean[i]));
        if (run.length === 1) line.lineTo(px(i) + 2, py(probe.mean[i]));
      } else {
        ribbon.lineTo(px(i), py(probe.max[i]));
        line.lineTo(px(i), py(probe.mean[i]));
      }
    }
    for (let n = run.length - 1; n >= 0; n--) {
      const i = run[n] ?? 0;
      ribbon.lineTo(px(i), py(probe.min[i]));
    }
    if (run.length > 0) ribbon.closePath();
    run = [];
  };
  for (let i = first; i < last; i++) {
    const mean = probe.mean[i];
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
