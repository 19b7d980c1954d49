import { useEffect, useState } from 'preact/hooks';
import { get, wordsOf } from '../http/api.ts';
import type { CandlingEntry, EggView, OutcomeEntry, TintTerm } from '../http/clutchShapes.ts';
import { now } from '../live/now.ts';
import { dayAndClock } from '../words/times.ts';
import { correctionOf, type Draft } from './draft.ts';
import { outbox, taken } from './outbox.ts';
import { entryWords, outcomeWords, seenDifferently, withCorrections } from './words.ts';

interface EntryListProps {
  clutch: string;
  egg: EggView;
  zone: string;
  tints: readonly TintTerm[];
  onCorrect: (draft: Draft) => void;
  traitName: (key: string) => string | null;
}

/** Everything ever entered about an egg: what was thought when, and by whom. Corrected entries stay readable. */
export function EntryList({ clutch, egg, zone, tints, onCorrect, traitName }: EntryListProps) {
  const [looks, setLooks] = useState<CandlingEntry[] | null>(null);
  const [outcomes, setOutcomes] = useState<OutcomeEntry[]>([]);
  const [trouble, setTrouble] = useState<string | null>(null);
  const reached = taken.value;
  useEffect(() => {
    let gone = false;
    const path = `/api/clutches/${encodeURIComponent(clutch)}`;
    Promise.all([
      get<CandlingEntry[]>(`${path}/candlings?egg=${egg.number}`),
      get<OutcomeEntry[]>(`${path}/outcomes?egg=${egg.number}`),
    ]).then(
      ([seen, came]) => {
        if (gone) return;
        setLooks(seen.filter((e) => e.egg === egg.number));
        setOutcomes(came.filter((o) => o.egg === egg.number));
        setTrouble(null);
      },
      (cause) => {
        if (!gone) setTrouble(wordsOf(cause));
      },
    );
    return () => {
      gone = true;
    };
  }, [clutch, egg.number, reached]);

  const unsent = outbox.value.filter((u) => u.clutch === clutch && u.body.egg === egg.number);
  const differ = seenDifferently(looks ?? []);
  const here = now.value?.zone ?? zone;
  const tintWord = (key: string | null): string | null =>
    key === null ? null : (tints.find((t) => t.key === key)?.word ?? key);
  return (
    <section class="entries" aria-label={`What was entered of egg ${egg.number}`}>
      <h3 class="quiet-head">What was seen of it</h3>
      {differ !== null && (
        <p class="both-words">
          {differ[0]} and {differ[1]} saw it differently on the same day. Both are kept.
        </p>
      )}
      {trouble !== null && <p class="muted">{trouble}</p>}
      <ul>
        {unsent.map((u) => (
          <li key={u.id} class="entry">
            <p>{u.kind === 'candlings' ? 'A look' : 'An outcome'} that has not reached the service yet.</p>
          </li>
        ))}
        {withCorrections(outcomes).map(({ entry, correctedBy }) => (
          <li key={entry.id} class={`entry ${correctedBy === null ? '' : 'corrected'}`}>
            <p>
              <strong>{outcomeWords(entry, entry.trait === null ? null : traitName(entry.trait))}</strong>
              {entry.note !== null && entry.note !== '' && <> “{entry.note}”</>}
            </p>
            <p class="muted">
              {entry.by}, {dayAndClock(Date.parse(entry.at), here)}
              {correctedBy !== null && `; corrected by ${correctedBy.by}`}
            </p>
          </li>
        ))}
        {withCorrections(looks ?? []).map(({ entry, correctedBy }) => (
          <li key={entry.id} class={`entry ${correctedBy === null ? '' : 'corrected'}`}>
            <p>
              <span class="entry-words">{entryWords(entry, entry.tintWord ?? tintWord(entry.tint))}</span>
              {entry.note !== null && entry.note !== '' && <> “{entry.note}”</>}
            </p>
            <p class="muted">
              {entry.by}, {dayAndClock(Date.parse(entry.at), here)}
              {entry.supersedes !== null && '; a correction'}
              {correctedBy !== null &&
                `; corrected by ${correctedBy.by}, ${dayAndClock(Date.parse(correctedBy.at), here)}`}
              {egg.restsOn.includes(entry.id) && '; its status rests on this'}
            </p>
            {correctedBy === null && (
              <button type="button" class="quiet small" onClick={() => onCorrect(correctionOf(entry))}>
                Correct<span class="unseen"> the look of {dayAndClock(Date.parse(entry.at), here)}</span>
              </button>
            )}
          </li>
        ))}
      </ul>
      {looks?.length === 0 && outcomes.length === 0 && unsent.length === 0 && (
        <p class="muted">Nothing yet: this is the first look.</p>
      )}
    </section>
  );
}
