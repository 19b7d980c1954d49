import { CareButtons } from '../care/CareButtons.tsx';
import { Link } from '../house/Link.tsx';
import type { ClutchPageView } from '../http/clutchShapes.ts';
import { dayAndClock } from '../words/times.ts';

/** Where the clutch lay, since when; what was moved is entered on its own page. */
export function PlacesPart({ page, zone }: { page: ClutchPageView; zone: string }) {
  const places = [...page.placements].sort((a, b) => b.from.localeCompare(a.from));
  const here = places.find((p) => p.until === null);
  return (
    <section class="part" aria-labelledby="places">
      <h2 id="places">Where it lay</h2>
      {places.length === 0 && (
        <p>It lies in no tub yet, so nothing is known of its temperature. Put it into one below.</p>
      )}
      <ul class="places">
        {places.map((p) => (
          <li key={`${p.from} ${p.tub}`}>
            <strong>
              {[p.tubName, p.incubatorName ?? 'in no incubator', p.shelf].filter(Boolean).join(', ')}
            </strong>{' '}
            <span class="muted">
              {p.until === null ? 'since' : 'from'} {dayAndClock(Date.parse(p.from), zone)}
              {p.until !== null && ` to ${dayAndClock(Date.parse(p.until), zone)}`}
            </span>
          </li>
        ))}
      </ul>
      {here !== undefined && <CareButtons on="tub" keyOf={here.tub} limit={3} />}
      {page.clutch.state !== 'finished' && (
        <p>
          <Link to={`/clutches/${encodeURIComponent(page.clutch.key)}/move`} class="button quiet">
            {places.length === 0 ? 'Put it into a tub' : 'It was moved'}
          </Link>
        </p>
      )}
    </section>
  );
}
