import { now } from '../../live/now.ts';
import { countWords } from '../keeping/words.ts';
import type { Outcome } from './shapes.ts';
import { readings, spanWords } from './words.ts';

interface OutcomePartProps {
  title: string;
  outcome: Outcome;
  report: string;
}

/** What came of a trial or of the real thing: how much was taken, of when, and why the rest was not. */
export function OutcomePart({ title, outcome, report }: OutcomePartProps) {
  const span = spanWords(outcome, now.value?.zone ?? 'UTC');
  return (
    <section class="import-outcome" aria-label={title}>
      <h2>{title}</h2>
      <dl class="facts">
        <dt>Taken</dt>
        <dd>{readings(outcome.taken)}</dd>
        <dt>Refused</dt>
        <dd>{countWords(outcome.refused)}</dd>
        {span !== null && (
          <>
            <dt>Measured</dt>
            <dd>{span}</dd>
          </>
        )}
      </dl>
      {outcome.reasons.length > 0 && (
        <>
          <h3>Why lines were refused</h3>
          <ul class="import-reasons">
            {outcome.reasons.map((reason) => (
              <li key={reason.reason}>
                <strong>{countWords(reason.count)}×</strong> {reason.reason}{' '}
                <span class="muted">First on line {countWords(reason.firstLine)}.</span>
              </li>
            ))}
          </ul>
          <details>
            <summary>The first of them</summary>
            <ol class="import-lines">
              {outcome.first.slice(0, 20).map((one) => (
                <li key={`${one.line} ${one.column}`}>
                  <span class="muted">Line {countWords(one.line)}</span> <code>{one.text}</code>
                </li>
              ))}
            </ol>
          </details>
          <p>
            <a class="plain-link" href={report} download>
              Every refused line, as a file
            </a>
          </p>
        </>
      )}
    </section>
  );
}
