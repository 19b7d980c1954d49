import { useState } from 'preact/hooks';
import type { History } from '../http/shapes.ts';
import { amount } from '../words/units.ts';
import { rowTime, tableOf } from './summary.ts';

const TABLE_ROWS = 24;

/** The same as the chart, for reading: rows with their extremes, so that nothing is averaged away. */
export function ChartTable({ history, zone, name }: { history: History; zone: string; name: string }) {
  const [open, setOpen] = useState(false);
  const say = (v: number): string => amount(v, history.quantity, history.unit);
  return (
    <details onToggle={(event) => setOpen(event.currentTarget.open)}>
      <summary>As a table</summary>
      {open && (
        // biome-ignore lint/a11y/noNoninteractiveTabindex: what scrolls sideways must be reachable by keys
        <section class="table-box" tabIndex={0} aria-label={`Table: ${name}`}>
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
                  <td>{say(row.min)}</td>
                  <td>{say(row.mean)}</td>
                  <td>{say(row.max)}</td>
                </tr>
              ))}
            </tbody>
          </table>
        </section>
      )}
    </details>
  );
}
