import { useSignalEffect } from '@preact/signals';
import { useEffect, useMemo, useRef, useState } from 'preact/hooks';
import { redLight } from '../candling/light.ts';
import type { History } from '../http/shapes.ts';
import { quantityWord } from '../words/standing.ts';
import { degree } from '../words/units.ts';
import { ChartTable } from './ChartTable.tsx';
import type { ChartView } from './chartView.ts';
import { columnsOf } from './columns.ts';
import { Legend } from './Legend.tsx';
import { momentWords } from './moment.ts';
import { type Plot, plot } from './plot.ts';
import { clipped, summaryOf, viewWords } from './summary.ts';
import type { Tile } from './tiles.ts';
import { keyed } from './view.ts';

interface ChartProps {
  history: History;
  missing: readonly Tile[];
  shared: ChartView;
  zone: string;
  height: number;
}

/** A chart one can look at, move with a finger or with keys, or read as words and as a table. */
export function Chart({ history, missing, shared, zone, height }: ChartProps) {
  const host = useRef<HTMLDivElement>(null);
  const made = useRef<Plot | null>(null);
  const [announced, announce] = useState('');
  const unit = degree.value;
  const light = redLight.value;
  const settled = shared.settled.value;
  const mark = shared.mark.value;

  useEffect(() => {
    const element = host.current;
    if (element === null) return;
    const drawn = plot(element, history, zone, height, {
      pan: shared.pan,
      zoom: shared.zoom,
      mark: shared.markAt,
    });
    drawn.setHistory(history, missing);
    drawn.setView(shared.view.peek());
    drawn.setMark(shared.mark.peek());
    made.current = drawn;
    const watcher = new ResizeObserver(() => drawn.resize());
    watcher.observe(element);
    return () => {
      watcher.disconnect();
      drawn.destroy();
      made.current = null;
    };
  }, [zone, height, unit, light, shared]);

  useEffect(() => made.current?.setHistory(history, missing), [history, missing]);

  // Movement goes straight to the picture, at most once a frame; the words follow when it rests.
  const frame = useRef<number | null>(null);
  useSignalEffect(() => {
    shared.view.value;
    shared.mark.value;
    if (frame.current !== null) return;
    frame.current = requestAnimationFrame(() => {
      frame.current = null;
      made.current?.setView(shared.view.peek());
      made.current?.setMark(shared.mark.peek());
    });
  });
  useEffect(() => () => cancelAnimationFrame(frame.current ?? 0), []);

  const inView = useMemo(() => clipped(history, settled), [history, settled]);
  const columns = useMemo(() => columnsOf(inView), [inView]);
  const words = momentWords(inView, columns, mark, zone);
  const name = `${quantityWord(history.quantity)} over time`;
  const press = (event: KeyboardEvent): void => {
    if (event.ctrlKey || event.metaKey || event.altKey) return;
    const { span } = shared.held.peek();
    const step = Math.max(history.bucketMs, Math.round(span / 60));
    const done = keyed(event.key, event.shiftKey, shared.held.peek(), mark, step, shared.now.peek());
    if (done === null) return;
    event.preventDefault();
    const moved = done.held !== shared.held.peek();
    shared.held.value = done.held;
    shared.mark.value = done.mark;
    if (moved) announce(viewWords(shared.view.peek(), zone));
  };
  return (
    <figure class="chart">
      <p class={history.incomplete == null ? 'chart-summary' : 'chart-summary incomplete'}>
        {summaryOf(inView, zone)}
      </p>
      <div
        class="chart-host"
        ref={host}
        tabIndex={0}
        role="slider"
        aria-label={`${name}. Arrows walk in time, with Shift they move the view; plus and minus come closer and go farther; Home is the start, End is now`}
        aria-valuemin={0}
        aria-valuemax={1000}
        aria-valuenow={Math.round(shareOf(mark, settled) * 1000)}
        aria-valuetext={words}
        onKeyDown={press}
      />
      <Legend series={history.series} />
      <figcaption class="chart-moment">{words}</figcaption>
      <p class="unseen" aria-live="polite">
        {announced}
      </p>
      <ChartTable history={inView} zone={zone} name={name} />
    </figure>
  );
}

function shareOf(mark: number | null, view: { from: number; to: number }): number {
  return Math.min(1, Math.max(0, ((mark ?? view.to) - view.from) / (view.to - view.from)));
}
