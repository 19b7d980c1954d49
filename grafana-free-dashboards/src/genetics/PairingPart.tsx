import type { ClutchPageView, PairingView, TintTerm } from '../http/clutchShapes.ts';
import { PairingEditor } from './PairingEditor.tsx';
import { copiesWords, countedWords, expectedWords, glowingWords, percent } from './words.ts';

interface PairingPartProps {
  page: ClutchPageView;
  tints: readonly TintTerm[];
  onSaved: () => Promise<void>;
}

/** Odds with their grounds: from the pairing, from the tint, and how often the tint has been right. */
export function PairingPart({ page, tints, onSaved }: PairingPartProps) {
  return (
    <section class="part" aria-labelledby="pairing">
      <h2 id="pairing">What it may carry</h2>
      {page.pairings.length === 0 && (
        <p>No trait is named for this pairing. Name one to see what to expect, and what the tints say.</p>
      )}
      {page.pairings.map((pairing) => (
        <Pairing key={pairing.trait} pairing={pairing} tints={tints} clutch={page} />
      ))}
      <PairingEditor page={page} tints={tints} onSaved={onSaved} />
      <p class="hint">Tints and odds are estimates, never a reason alone to discard an egg.</p>
    </section>
  );
}

function Pairing({
  pairing,
  tints,
  clutch,
}: {
  pairing: PairingView;
  tints: readonly TintTerm[];
  clutch: ClutchPageView;
}) {
  const { shares, likelihood, marker } = pairing;
  const terms = (marker?.terms ?? []).map((t) => tints.find((term) => term.key === t)?.word ?? t);
  const [expected, glowing] = [expectedWords(pairing), glowingWords(pairing)];
  return (
    <div class="pairing">
      <p class="lead">
        {expected ?? `How many carry ${pairing.traitName} cannot be said: a parent's copies are not known.`}{' '}
        {glowing}
      </p>
      <p class="muted">
        {pairing.traitName}, {pairing.inheritance}: {clutch.clutch.dam} has {copiesWords(pairing.damCopies)},{' '}
        {clutch.clutch.sire ?? 'the sire'} {copiesWords(pairing.sireCopies)}.
      </p>
      {shares.length > 0 && (
        <ul class="shares">
          {shares.map((s) => (
            <li key={s.copies}>
              <svg class="share" viewBox="0 0 100 6" preserveAspectRatio="none" aria-hidden="true">
                <rect class="stage-rest" width="100" height="6" />
                <rect class="stage-done" width={s.p * 100} height="6" />
              </svg>
              <span>
                <strong>{s.share}</strong> {s.looks} <span class="muted">({copiesWords(s.copies)})</span>
              </span>
            </li>
          ))}
        </ul>
      )}
      <dl class="odds">
        {likelihood !== null && (
          <>
            <dt>How usual that count is</dt>
            <dd>
              {likelihood.words} ({percent(likelihood.p)})
            </dd>
          </>
        )}
        <dt>The tint as a marker</dt>
        <dd>
          {terms.length === 0
            ? 'No tint is said to go with it.'
            : `${terms.join(' or ')} is said to go with carrying it. ${marker?.words ?? ''}`}
        </dd>
        {marker?.sensitivity != null && marker.sensitivity.n > 0 && (
          <>
            <dt>Carriers that had glowed so</dt>
            <dd>{countedWords(marker.sensitivity)}</dd>
          </>
        )}
        {marker?.specificity != null && marker.specificity.n > 0 && (
          <>
            <dt>Others that had not</dt>
            <dd>{countedWords(marker.specificity)}</dd>
          </>
        )}
      </dl>
    </div>
  );
}
