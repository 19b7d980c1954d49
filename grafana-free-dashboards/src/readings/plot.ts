import uPlot from 'uplot';
import type { History } from '../http/shapes.ts';
import { number, shown } from '../words/units.ts';
import { label, splits, stepFor } from './axis.ts';
import { type Columns, columnsOf } from './columns.ts';
import { follow, type GestureHandlers } from './gestures.ts';
import { type Colours, paint, visible } from './paint.ts';
import type { Tile } from './tiles.ts';
import type { View } from './view.ts';

export interface Plot {
  setHistory(history: History, missing: readonly Tile[]): void;
  /** Only moves what is drawn already: cheap enough for every frame of a movement. */
  setView(view: View): void;
  setMark(ms: number | null): void;
  resize(): void;
  destroy(): void;
}

/** One chart of one quantity. uPlot keeps scales and axes; ribbons, band and mark are ours. */
export function plot(
  host: HTMLElement,
  first: History,
  zone: string,
  height: number,
  handlers: GestureHandlers,
): Plot {
  let history = turned(first);
  let columns = columnsOf(history);
  let missing: [number, number][] = [];
  let view: View = { from: Date.parse(first.from), to: Date.parse(first.to) };
  let marked: number | null = null;
  const colours = coloursOf(host);
  const series = { paths: () => null, points: { show: false } };
  const u = new uPlot(
    {
      width: Math.max(200, host.clientWidth),
      height,
      legend: { show: false },
      cursor: { show: false },
      select: { show: false, left: 0, top: 0, width: 0, height: 0 },
      scales: {
        x: { time: false, range: () => [view.from / 1000, view.to / 1000] },
        y: { range: () => rangeOf(history, columns, view) },
      },
      axes: [
        {
          stroke: colours.limit,
          grid: { stroke: colours.limit, width: 0.2 },
          ticks: { show: false },
          font: '12px system-ui, sans-serif',
          gap: 6,
          size: 30,
          splits: (self, _axis, min, max) =>
            splits(min * 1000, max * 1000, stepOf(self, min, max), zone).map((ms) => ms / 1000),
          values: (self, values) => {
            const step = stepOf(self, self.scales.x?.min ?? 0, self.scales.x?.max ?? 0);
            return values.map((v) => label(v * 1000, step, zone));
          },
        },
        {
          stroke: colours.limit,
          grid: { show: false },
          ticks: { show: false },
          font: '12px system-ui, sans-serif',
          size: 40,
          gap: 6,
          values: (_self, values) => values.map((v) => number(v, values.every(Number.isInteger) ? 0 : 1)),
        },
      ],
      series: [{}, ...columns.probes.map(() => series)],
      hooks: {
        draw: [(self) => paint(self, { columns, band: history.band, missing, colours })],
      },
    },
    dataOf(columns),
    host,
  );
  const line = document.createElement('div');
  line.className = 'chart-mark';
  line.hidden = true;
  u.over.append(line);
  const placeMark = (): void => {
    const at = marked === null ? -1 : (marked - view.from) / (view.to - view.from);
    line.hidden = !(at >= 0 && at <= 1);
    line.style.left = `${at * 100}%`;
  };
  const stop = follow(u.over, handlers);
  return {
    setHistory(next, tiles) {
      const before = columns.probes.length;
      history = turned(next);
      columns = columnsOf(history);
      missing = tiles.map((t) => [t.from / 1000, t.to / 1000]);
      for (let i = before; i < columns.probes.length; i++) u.addSeries(series);
      for (let i = before; i > columns.probes.length; i--) u.delSeries(i);
      u.setData(dataOf(columns));
    },
    setView(next) {
      view = next;
      u.setScale('x', { min: next.from / 1000, max: next.to / 1000 });
      placeMark();
    },
    setMark(ms) {
      marked = ms;
      placeMark();
    },
    resize: () => u.setSize({ width: Math.max(200, host.clientWidth), height }),
    destroy() {
      stop();
      u.destroy();
    },
  };
}

function stepOf(u: uPlot, min: number, max: number): number {
  const width = u.bbox.width / devicePixelRatio || u.width;
  return stepFor((max - min) * 1000, width, 58);
}

function dataOf(columns: Columns): uPlot.AlignedData {
  return [columns.x, ...columns.probes.map((p) => p.mean)] as uPlot.AlignedData;
}

/** In the degrees of this phone, so that the axis has round figures in them. */
export function turned(history: History): History {
  const turn = (v: number): number => shown(v, history.quantity);
  const limit = (v: number | null): number | null => (v === null ? null : turn(v));
  return {
    ...history,
    series: history.series.map((s) => ({
      ...s,
      min: s.min.map(turn),
      mean: s.mean.map(turn),
      max: s.max.map(turn),
    })),
    band:
      history.band === null
        ? null
        : {
            dangerLow: limit(history.band.dangerLow),
            warningLow: limit(history.band.warningLow),
            warningHigh: limit(history.band.warningHigh),
            dangerHigh: limit(history.band.dangerHigh),
          },
  };
}

/** Edges of the scale stand on multiples of this, so that it rests while one moves through time. */
const STEADY = [0.1, 0.2, 0.5, 1, 2, 5, 10, 20, 50, 100];

/**
 * All values in view and the band with some air: the band is in view even when the values are far away from it.
 * Without a view, all values there are.
 */
export function rangeOf(history: History, columns: Columns, view?: View): [number, number] {
  const [first, last] =
    view === undefined ? [0, columns.x.length] : visible(columns.x, view.from / 1000, view.to / 1000);
  let low = Number.POSITIVE_INFINITY;
  let high = Number.NEGATIVE_INFINITY;
  const take = (v: number | null | undefined): void => {
    if (typeof v !== 'number') return;
    low = Math.min(low, v);
    high = Math.max(high, v);
  };
  for (const probe of columns.probes) {
    for (let i = first; i < last; i++) {
      take(probe.min[i]);
      take(probe.max[i]);
    }
  }
  take(history.band?.warningLow);
  take(history.band?.warningHigh);
  if (low > high) return [0, 1];
  // A limit alone, or a value that never moved: a degree on either side, so that nothing is made of nothing.
  if (high - low < 0.01) return [low - 1, high + 1];
  const air = Math.max(0.15, (high - low) * 0.07);
  const step = STEADY.find((s) => s >= (high - low) * 0.12) ?? 100;
  const top = Math.ceil((high + air) / step) * step;
  return [
    Math.floor((low - air) / step) * step,
    history.quantity === 'humidity' ? Math.max(high, Math.min(105, top)) : top,
  ];
}

function coloursOf(host: HTMLElement): Colours {
  const style = getComputedStyle(host);
  const colour = (name: string, otherwise: string): string =>
    style.getPropertyValue(name).trim() || otherwise;
  return {
    ribbon: colour('--trail', '#c9bda9'),
    line: colour('--ink', '#f3ecdf'),
    limit: colour('--soft', '#b8ad9d'),
    alert: colour('--danger', '#ff6f5e'),
  };
}
