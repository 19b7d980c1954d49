import { useEffect, useMemo, useRef, useState } from 'preact/hooks';
import type { History } from '../http/shapes.ts';
import { quantityWord } from '../words/standing.ts';
import { dayAndClock } from '../words/times.ts';
import { amount, degree } from '../words/units.ts';
import { columnsOf } from './columns.ts';
import { type Plot, plot } from './plot.ts';
import { rowTime, summaryOf, tableOf } from './summary.ts';

interface ChartProps {
  history: History;
  zone: string;
  height: number;
}

const TABLE_ROWS = 24;

/** A chart one can look at, move over with a finger, walk through with arrow keys, or read as words and as a table. */
export function Chart({ history, zone, height }: ChartProps) {
  const host = useRef<HTMLDivElement>(null);
  const made = useRef<Plot | null>(null);
  const [index, setIndex] = useState<number | null>(null);
  const columns = useMemo(() => columnsOf(history), [history]);
  const unit = degree.value;

  useEffect(() => {
    const element = host.current;
    if (element === null) return;
    const drawn = plot(element, history, zone, height, setIndex);
    made.current = drawn;
    const watcher = new ResizeObserver(() => drawn.resize());
    watcher.observe(element);
    return () => {
      watcher.disconnect();
      drawn.destroy();
      made.current = null;
    };
  }, [zone, height, unit]);

  useEffect(() => made.current?.setHistory(history), [history]);

  const last = columns.x.length - 1;
  const move = (event: KeyboardEvent): void => {
    const step = event.shiftKey ? 12 : 1;
    const here = index ?? last;
    const to = { ArrowLeft: here - step, ArrowRight: here + step, Home: 0, End: last }[event.key];
    if (to === undefined || last < 0) return;
    event.preventDefault();
    const next = Math.min(last, Math.max(0, to));
    made.current?.setCursor(next);
    setIndex(next);
  };
  const words = momentWords(history, columns, index, zone);
  const name = `${quantityWord(history.quantity)} over time`;
  return (
    <figure class="chart">
      <p class="chart-summary">{summaryOf(history, zone)}</p>
      <div
        class="chart-host"
        ref={host}
        tabIndex={0}
        role="slider"
        aria-label={`${name}: left and right arrow move in time`}
        aria-valuemin={0}
        aria-valuemax={Math.max(0, last)}
        aria-valuenow={index ?? Math.max(0, last)}
        aria-valuetext={words}
        onKeyDown={move}
      />
      <figcaption class="chart-moment">{words}</figcaption>
      <details>
        <summary>As a table</summary>
        <div class="table-box">
          <table>
            <caption class="unseen">{name}</caption>
            <thead>
              <tr>
                <th scope="col">When</th>
                <th scope="col">Lowest</th>
                <th scope="col">Mean</th>
                <th scope="col">Highest</th>
              </tr>
            </thead>
            <tbody>
              {tableOf(history, TABLE_ROWS).map((row) => (
                <tr key={row.from}>
                  <th scope="row">{rowTime(row, zone)}</th>
                  <td>{amount(row.min, history.quantity, history.unit)}</td>
                  <td>{amount(row.mean, history.quantity, history.unit)}</td>
                  <td>{amount(row.max, history.quantity, history.unit)}</td>
                </tr>
              ))}
            </tbody>
          </table>
        </div>
      </details>
    </figure>
  );
}

function momentWords(
  history: History,
  columns: ReturnType<typeof columnsOf>,
  index: number | null,
  zone: string,
): string {
  const at = columns.x[index ?? columns.x.length - 1];
  if (at === undefined) return 'No readings.';
  const i = index ?? columns.x.length - 1;
  const parts = columns.probes.flatMap((p) => {
    const [min, mean, max] = [p.min[i], p.mean[i], p.max[i]];
    if (typeof min !== 'number' || typeof mean !== 'number' || typeof max !== 'number') return [];
    const say = (v: number): string => amount(v, history.quantity, history.unit);
    return [`${p.probe} ${say(mean)} (${say(min)} to ${say(max)})`];
  });
  return `${dayAndClock(at * 1000, zone)}: ${parts.length === 0 ? 'nothing heard' : parts.join('; ')}`;
}
