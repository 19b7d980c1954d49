import type { RunIn } from '../../http/probeShapes.ts';
import { quantityWord } from '../../words/standing.ts';
import { amount, bound, difference, number } from '../../words/units.ts';
import { Spots } from './Spots.tsx';

/** What was found: in words first, then drawn, then as figures. */
export function RunInResult({ run }: { run: RunIn }) {
  const unit = (q: string): string => (q === 'humidity' ? '%RH' : 'Cel');
  if (run.steadiness.length === 0) {
    return (
      <p class="muted">There is nothing to judge by yet: the first figures come after the first hour.</p>
    );
  }
  return (
    <>
      {run.findings.length > 0 && (
        <section class="part" aria-labelledby="findings">
          <h2 id="findings">What was found</h2>
          <ul class="said">
            {run.findings.map((f) => (
              <li key={f}>{bound(f)}</li>
            ))}
          </ul>
        </section>
      )}
      <section class="part" aria-labelledby="spots">
        <h2 id="spots">Warmer and cooler places</h2>
        <Spots spots={run.spots} />
      </section>
      <section class="part" aria-labelledby="steadiness">
        <h2 id="steadiness">How steady it is</h2>
        {/* biome-ignore lint/a11y/noNoninteractiveTabindex: what scrolls sideways must be reachable by keys */}
        <section class="table-box" tabIndex={0} aria-label="Table: how steady it is">
          <table>
            <thead>
              <tr>
                <th scope="col">Where</th>
                <th scope="col">Mean</th>
                <th scope="col">Strays by</th>
                <th scope="col">Least to most</th>
                <th scope="col">In its band</th>
              </tr>
            </thead>
            <tbody>
              {run.steadiness.map((s) => (
                <tr key={`${s.probe} ${s.quantity}`}>
                  <th scope="row">
                    {s.where ?? s.probe}
                    <span class="muted">, {quantityWord(s.quantity)}</span>
                  </th>
                  <td>{amount(s.mean, s.quantity, unit(s.quantity))}</td>
                  <td>
                    {difference(s.deviation, s.quantity, unit(s.quantity), s.quantity === 'humidity' ? 1 : 2)}
                  </td>
                  <td>
                    {amount(s.least, s.quantity, unit(s.quantity))} to{' '}
                    {amount(s.most, s.quantity, unit(s.quantity))}
                  </td>
                  <td>
                    {s.inBandShare === null
                      ? 'no band'
                      : `${number(Math.floor(s.inBandShare * 100), 0)}\u00a0%`}
                  </td>
                </tr>
              ))}
            </tbody>
          </table>
        </section>
      </section>
    </>
  );
}
