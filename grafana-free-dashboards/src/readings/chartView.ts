import { computed, type ReadonlySignal, type Signal, signal } from '@preact/signals';
import { useEffect, useMemo } from 'preact/hooks';
import { serviceNow } from '../live/now.ts';
import { type Held, panned, type View, viewOf, zoomed } from './view.ts';

/** What all charts of one page share: they move together, and a mark on one is a mark on all. */
export interface ChartView {
  view: ReadonlySignal<View>;
  /** The view once it has rested: what is put into words, and fetched. */
  settled: ReadonlySignal<View>;
  held: Signal<Held>;
  mark: Signal<number | null>;
  now: ReadonlySignal<number>;
  pan(share: number): void;
  zoom(factor: number, share: number): void;
  markAt(share: number | null): void;
}

/** Longer than between two moves of a finger, shorter than a person waits. */
const REST_MS = 140;
/** The right edge goes along with the time in steps that are seen, not with every tick. */
const STEP_MS = 10_000;

export function useChartView(hours: number): ChartView {
  const made = useMemo(() => {
    const held = signal<Held>({ span: hours * 3_600_000, end: null });
    const mark = signal<number | null>(null);
    const now = computed(() => Math.ceil(serviceNow.value / STEP_MS) * STEP_MS);
    const view = computed(() => viewOf(held.value, now.value));
    const settled = signal<View>(view.peek());
    const chart: ChartView = {
      view,
      settled,
      held,
      mark,
      now,
      pan(share) {
        held.value = panned(held.peek(), share, now.peek());
      },
      zoom(factor, share) {
        held.value = zoomed(held.peek(), factor, share, now.peek());
      },
      markAt(share) {
        const { from, to } = view.peek();
        mark.value = share === null ? null : from + share * (to - from);
      },
    };
    return { chart, settled };
  }, []);
  useEffect(() => {
    let timer: ReturnType<typeof setTimeout> | null = null;
    const stop = made.chart.view.subscribe((view) => {
      if (timer !== null) clearTimeout(timer);
      timer = setTimeout(() => {
        made.settled.value = view;
      }, REST_MS);
    });
    return () => {
      stop();
      if (timer !== null) clearTimeout(timer);
    };
  }, [made]);
  return made.chart;
}
