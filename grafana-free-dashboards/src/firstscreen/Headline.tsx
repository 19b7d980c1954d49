import { AnswerButton } from '../alarms/AnswerButton.tsx';
import { Link } from '../house/Link.tsx';
import type { Now } from '../http/shapes.ts';
import { Shape, TONE_WORD } from '../look/Shape.tsx';
import { bound } from '../words/units.ts';

/** What a person would say if asked. The sentences are the service's; the shape and its word go with their tone. */
export function Headline({ shown, at }: { shown: Now; at: number }) {
  const { headline } = shown;
  const alarm = shown.alarms.find((a) => a.occurrence === headline.occurrence);
  const incubator = headline.incubator ?? alarm?.incubator ?? null;
  const low = alarm?.condition === 'low';
  return (
    <header class={`headline ${headline.tone} ${alarm?.answeredBy == null ? '' : 'answered'}`}>
      <p class="tone">
        <Shape tone={headline.tone} down={low} large />
        <span>{TONE_WORD[headline.tone]}</span>
      </p>
      <h1 aria-live="polite">{bound(headline.sentence)}</h1>
      {headline.next !== null && <p class="next">{bound(headline.next)}</p>}
      {headline.detail !== null && <p class="detail">{bound(headline.detail)}</p>}
      {alarm !== undefined && (
        <div class="presses">
          <AnswerButton alarm={alarm} at={at} zone={shown.zone} main />
          {incubator !== null && incubator !== '' && (
            <Link to={`/incubators/${encodeURIComponent(incubator)}`} class="button quiet">
              Show the chart
            </Link>
          )}
        </div>
      )}
    </header>
  );
}
