import type { ClutchBrief } from '../clutches/new/shapes.ts';
import { Link } from '../house/Link.tsx';
import type { Review } from './shapes.ts';
import { comparisonFigure } from './words.ts';

interface ComparisonProps {
  review: Review;
  others: readonly ClutchBrief[];
  chosen: string;
  onChoose: (key: string) => void;
}

/** Against a clutch of the keeper's own choice: what went otherwise, not what is to blame. */
export function Comparison({ review, others, chosen, onChoose }: ComparisonProps) {
  const { against } = review;
  return (
    <section class="part" aria-labelledby="comparison">
      <h2 id="comparison">
        {against === null ? 'Against another clutch' : `${review.clutch.label} against ${against.label}`}
      </h2>
      {others.length === 0 ? (
        <p class="no-print">
          There is no other clutch to hold it against yet.{' '}
          <Link to="/clutches/new">Enter one that went well.</Link>
        </p>
      ) : (
        <div class="field no-print">
          <label for="against">Hold it against</label>
          <select id="against" value={chosen} onChange={(event) => onChoose(event.currentTarget.value)}>
            <option value="">no other</option>
            {others.map((c) => (
              <option key={c.key} value={c.key}>
                {c.label}: {c.eggs.hatched} of {c.eggs.laid} hatched, {c.speciesName}
              </option>
            ))}
          </select>
        </div>
      )}
      {against !== null && review.comparison.length > 0 && (
        <table class="comparison">
          <thead>
            <tr>
              <th scope="col">What</th>
              <th scope="col">{review.clutch.label}</th>
              <th scope="col">{against.label}</th>
              <th scope="col">
                <span class="unseen">In words</span>
              </th>
            </tr>
          </thead>
          <tbody>
            {review.comparison.map((line) => (
              <tr key={line.what}>
                <th scope="row">{line.what}</th>
                <td>{comparisonFigure(line, line.this)}</td>
                <td>{comparisonFigure(line, line.against)}</td>
                <td class="words">{line.words}</td>
              </tr>
            ))}
          </tbody>
        </table>
      )}
    </section>
  );
}
