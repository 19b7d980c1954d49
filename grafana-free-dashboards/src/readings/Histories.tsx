import { useEffect, useState } from 'preact/hooks';
import { get, wordsOf } from '../http/api.ts';
import type { History } from '../http/shapes.ts';
import { lastReading, serviceNow } from '../live/now.ts';
import { quantityWord } from '../words/standing.ts';
import { zoneWord } from '../words/times.ts';
import { Chart } from './Chart.tsx';

const RANGES = [
  { hours: 6, word: '6 h' },
  { hours: 24, word: '24 h' },
  { hours: 168, word: '7 days' },
];

/** A new answer is asked for when a reading of this incubator was heard, at most this often. */
const PAUSE_MS = 10_000;
const LONGEST_PAUSE_MS = 60_000;

interface HistoriesProps {
  incubator: string;
  quantities: readonly string[];
  zone: string;
}

export function Histories({ incubator, quantities, zone }: HistoriesProps) {
  const [hours, setHours] = useState(24);
  const shown = quantities.length === 0 ? ['temperature'] : quantities;
  return (
    <section class="part" aria-labelledby="history">
      <h2 id="history">How it went</h2>
      <fieldset class="choices">
        <legend class="unseen">How far back</legend>
        {RANGES.map((range) => (
          <label key={range.hours} class="choice">
            <input
              type="radio"
              name="range"
              checked={hours === range.hours}
              onChange={() => setHours(range.hours)}
            />
            <span>{range.word}</span>
          </label>
        ))}
      </fieldset>
      {shown.map((quantity) => (
        <OneHistory key={quantity} incubator={incubator} quantity={quantity} hours={hours} zone={zone} />
      ))}
      <p class="muted small-print">Times in {zoneWord(serviceNow.value, zone)}.</p>
    </section>
  );
}

function OneHistory(props: { incubator: string; quantity: string; hours: number; zone: string }) {
  const { incubator, quantity, hours, zone } = props;
  const [history, setHistory] = useState<History | null>(null);
  const [trouble, setTrouble] = useState<string | null>(null);

  useEffect(() => {
    let current = true;
    let askedAt = 0;
    const load = async (): Promise<void> => {
      askedAt = Date.now();
      const to = new Date(serviceNow.peek());
      const from = new Date(to.getTime() - hours * 3_600_000);
      const query = new URLSearchParams({
        quantity,
        from: from.toISOString(),
        to: to.toISOString(),
        buckets: String(Math.min(600, Math.max(120, window.innerWidth))),
      });
      try {
        const answer = await get<History>(
          `/api/incubators/${encodeURIComponent(incubator)}/history?${query}`,
        );
        if (current) {
          setHistory(answer);
          setTrouble(null);
        }
      } catch (cause) {
        if (current) setTrouble(wordsOf(cause));
      }
    };
    void load();
    const stop = lastReading.subscribe((hint) => {
      if (hint?.incubator === incubator && hint.quantity === quantity && Date.now() - askedAt > PAUSE_MS)
        void load();
    });
    const timer = setInterval(() => {
      if (document.visibilityState !== 'hidden' && Date.now() - askedAt > LONGEST_PAUSE_MS) void load();
    }, PAUSE_MS);
    return () => {
      current = false;
      stop();
      clearInterval(timer);
    };
  }, [incubator, quantity, hours]);

  return (
    <div class="one-history">
      <h3>{quantityWord(quantity)}</h3>
      {trouble !== null && <p class="form-words">{trouble}</p>}
      {history === null ? (
        trouble === null && <p class="muted">Fetching…</p>
      ) : (
        <Chart history={history} zone={zone} height={quantity === 'temperature' ? 260 : 170} />
      )}
    </div>
  );
}
