import uPlot from 'uplot';
import type { History } from '../http/shapes.ts';
import { number, shown } from '../words/units.ts';
import { label, splits, stepFor } from './axis.ts';
import { type Columns, columnsOf } from './columns.ts';
import { type Colours, paint } from './paint.ts';

export interface Plot {
  setHistory(history: History): void;
  setCursor(index: number | null): void;
  resize(): void;
  destroy(): void;
}

/** One chart of one quantity. uPlot keeps scales, axes and cursor; ribbons and band are painted by us. */
export function plot(
  host: HTMLElement,
  first: History,
  zone: string,
  height: number,
  onIndex: (index: number | null) => void,
): Plot {
  let history = turned(first);
  let columns = columnsOf(history);
  const colours = coloursOf(host);
  const u = new uPlot(
    {
      width: Math.max(200, host.clientWidth),
      height,
      legend: { show: false },
      cursor: { y: false, drag: { x: false, y: false }, points: { show: false } },
      select: { show: false, left: 0, top: 0, width: 0, height: 0 },
      scales: {
        x: { time: false, range: () => [Date.parse(history.from) / 1000, Date.parse(history.to) / 1000] },
        y: { range: () => rangeOf(history, columns) },
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
      series: [{}, ...columns.probes.map(() => ({ show: true, paths: () => null, points: { show: false } }))],
      hooks: {
        draw: [(self) => paint(self, columns.x, columns.probes, history.band, colours)],
        setCursor: [(self) => onIndex(self.cursor.idx ?? null)],
      },
    },
    dataOf(columns),
    host,
  );
  const finger = touch(u);
  return {
    setHistory(next) {
      const before = columns.probes.length;
      history = turned(next);
      columns = columnsOf(history);
      for (let i = before; i < columns.probes.length; i++)
        u.addSeries({ paths: () => null, points: { show: false } });
      for (let i = before; i > columns.probes.length; i--) u.delSeries(i);
      u.setData(dataOf(columns));
    },
    setCursor(index) {
      const at = index === null ? undefined : columns.x[index];
      u.setCursor(at === undefined ? { left: -10, top: -10 } : { left: u.valToPos(at, 'x'), top: 10 });
    },
    resize: () => u.setSize({ width: Math.max(200, host.clientWidth), height }),
    destroy() {
      finger();
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

/** All values and the band with some air: the band is in view even when the values are far away from it. */
export function rangeOf(history: History, columns: Columns): [number, number] {
  const values: number[] = [];
  for (const probe of columns.probes) {
    for (const v of [...probe.min, ...probe.max]) if (typeof v === 'number') values.push(v);
  }
  for (const limit of [history.band?.warningLow, history.band?.warningHigh])
    if (typeof limit === 'number') values.push(limit);
  if (values.length === 0) return [0, 1];
  const low = values.reduce((a, b) => Math.min(a, b));
  const high = values.reduce((a, b) => Math.max(a, b));
  const air = Math.max(0.3, (high - low) * 0.14);
  return [low - air, history.quantity === 'humidity' ? Math.min(105, high + air) : high + air];
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

/** One finger across the chart moves the cursor; up and down still moves the page (touch-action: pan-y). */
function touch(u: uPlot): () => void {
  const moved = (event: PointerEvent): void => {
    if (event.pointerType === 'mouse') return;
    const box = u.over.getBoundingClientRect();
    u.setCursor({ left: event.clientX - box.left, top: 10 });
  };
  u.over.addEventListener('pointerdown', moved);
  u.over.addEventListener('pointermove', moved);
  return () => {
    u.over.removeEventListener('pointerdown', moved);
    u.over.removeEventListener('pointermove', moved);
  };
}
