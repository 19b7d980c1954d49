import { useEffect, useMemo, useRef, useState } from 'preact/hooks';
import { lastReading, serviceNow } from '../live/now.ts';
import { useWidth } from '../look/useWidth.ts';
import { quantityWord } from '../words/standing.ts';
import { zoneWord } from '../words/times.ts';
import { Chart } from './Chart.tsx';
import { type ChartView, useChartView } from './chartView.ts';
import { viewWords } from './summary.ts';
import { type Picture, TileStore } from './tileStore.ts';

const RANGES = [
  { hours: 6, word: '6 h' },
  { hours: 24, word: '24 h' },
  { hours: 168, word: '7 days' },
  { hours: 720, word: '30 days' },
  { hours: 2880, word: 'Season' },
];

/** A new answer is asked for when a reading of this incubator was heard, at most this often. */
const PAUSE_MS = 10_000;

interface HistoriesProps {
  incubator: string;
  quantities: readonly string[];
  zone: string;
  /** Only this probe, on its own page. */
  probe?: string;
}

export function Histories({ incubator, quantities, zone, probe }: HistoriesProps) {
  const shared = useChartView(24);
  const shown = quantities.length === 0 ? ['temperature'] : quantities;
  return (
    <section class="part" aria-labelledby="history">
      <h2 id="history">How it went</h2>
      <Ranges shared={shared} zone={zone} />
      {shown.map((quantity) => (
        <OneHistory
          key={`${incubator} ${quantity}`}
          incubator={incubator}
          quantity={quantity}
          zone={zone}
          shared={shared}
          {...(probe === undefined ? {} : { probe })}
        />
      ))}
      <p class="muted small-print">
        Times in {zoneWord(serviceNow.value, zone)}. Drag to move in time, two fingers or two taps to come
        closer; by keys: arrows, + and −, Home, End.
      </p>
    </section>
  );
}

function Ranges({ shared, zone }: { shared: ChartView; zone: string }) {
  const { span, end } = shared.held.value;
  return (
    <div class="ranges">
      <fieldset class="choices">
        <legend class="unseen">How far back</legend>
        {RANGES.map((range) => (
          <label key={range.hours} class="choice">
            <input
              type="radio"
              name="range"
              checked={end === null && span === range.hours * 3_600_000}
              onChange={() => {
                shared.held.value = { span: range.hours * 3_600_000, end: null };
                shared.mark.value = null;
              }}
            />
            <span>{range.word}</span>
          </label>
        ))}
      </fieldset>
      <div class="moves">
        <Move word="Earlier" sign="←" onPress={() => shared.pan(-0.5)} />
        <Move word="Later" sign="→" onPress={() => shared.pan(0.5)} disabled={end === null} />
        <Move word="Closer" sign="+" onPress={() => shared.zoom(0.5, end === null ? 1 : 0.5)} />
        <Move word="Farther" sign="−" onPress={() => shared.zoom(2, end === null ? 1 : 0.5)} />
        {end !== null && (
          <button
            type="button"
            onClick={() => {
              shared.held.value = { span, end: null };
              shared.mark.value = null;
            }}
          >
            Now
          </button>
        )}
      </div>
      <p class="view-words">{viewWords(shared.settled.value, zone)}</p>
    </div>
  );
}

function Move(props: { word: string; sign: string; onPress: () => void; disabled?: boolean }) {
  return (
    <button type="button" class="move" onClick={props.onPress} disabled={props.disabled === true}>
      <span aria-hidden="true">{props.sign}</span>
      <span class="unseen">{props.word}</span>
    </button>
  );
}

interface OneHistoryProps {
  incubator: string;
  quantity: string;
  zone: string;
  shared: ChartView;
  probe?: string;
}

function OneHistory({ incubator, quantity, zone, shared, probe }: OneHistoryProps) {
  const host = useRef<HTMLDivElement>(null);
  const pixels = useWidth(host) - 44;
  const store = useMemo(() => new TileStore(incubator, quantity), [incubator, quantity]);
  const [picture, setPicture] = useState<Picture | null>(null);
  const settled = shared.settled.value;
  const arrived = store.changed.value;

  useEffect(() => () => store.close(), [store]);
  useEffect(() => {
    store.want(settled, pixels, shared.now.peek());
  }, [store, settled, pixels]);
  useEffect(() => {
    const next = store.picture(settled, pixels);
    if (next === null) return;
    setPicture(probe === undefined ? next : { ...next, history: only(next.history, probe) });
  }, [store, settled, pixels, arrived, probe]);
  useEffect(() => {
    let askedAt = Date.now();
    const again = (): void => {
      if (document.visibilityState === 'hidden' || Date.now() - askedAt < PAUSE_MS) return;
      askedAt = Date.now();
      store.want(shared.settled.peek(), pixels, shared.now.peek());
    };
    const stop = lastReading.subscribe((hint) => {
      if (hint?.incubator === incubator && hint.quantity === quantity) again();
    });
    // Also when nothing is heard: then the gap grows.
    const timer = setInterval(again, PAUSE_MS);
    return () => {
      stop();
      clearInterval(timer);
    };
  }, [store, incubator, quantity, pixels]);

  const trouble = store.trouble.value;
  return (
    <div class="one-history" ref={host}>
      <h3>{quantityWord(quantity)}</h3>
      {trouble !== null && <p class="form-words">{trouble}</p>}
      {picture === null ? (
        trouble === null && <p class="muted">Fetching…</p>
      ) : (
        <Chart
          history={picture.history}
          missing={picture.missing}
          shared={shared}
          zone={zone}
          height={quantity === 'temperature' ? 260 : 170}
        />
      )}
    </div>
  );
}

const only = (history: Picture['history'], probe: string): Picture['history'] => ({
  ...history,
  series: history.series.filter((s) => s.probe === probe),
});
