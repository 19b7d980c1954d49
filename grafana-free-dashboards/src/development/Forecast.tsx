import type { ForecastView } from '../http/clutchShapes.ts';
import { number } from '../words/units.ts';

/** The forecast in words: what is expected, what was assumed for it, and what it rests on. */
export function Forecast({ forecast, words }: { forecast: ForecastView; words: string | null }) {
  // The sentence at the head begins with the window; it is said once.
  const lead = words ?? forecast.words;
  const hours = forecast.gaps.reduce((sum, g) => sum + g.hours, 0);
  return (
    <section class="part" aria-labelledby="forecast">
      <h2 id="forecast">When it will pip</h2>
      <p class="lead">{lead}</p>
      <ul class="grounds">
        {!lead.includes(forecast.words) && <li>{forecast.words}</li>}
        <li>{forecast.assumedAhead}</li>
        {forecast.degreeDays !== null && (
          <li>
            {number(forecast.degreeDays, 0)} degree-days so far. {sentenceOf(forecast.profile)}
          </li>
        )}
        {forecast.gaps.length > 0 && (
          <li>
            {number(hours, hours < 10 ? 1 : 0)} hours of it are without readings; the window is wider for it.
          </li>
        )}
        <li>
          {forecast.evidence === 'published'
            ? 'How fast this species develops is published.'
            : 'How fast this species develops is common practice, not published: the window is wide.'}
        </li>
      </ul>
    </section>
  );
}

const sentenceOf = (words: string): string => (/[.!?]$/.test(words) ? words : `${words}.`);
