import { moment } from '../words/times.ts';
import { type CareEntry, careWords } from './entries.ts';

/** The log, newest first: what, when, by whom. */
export function CareList({ entries, at, zone }: { entries: readonly CareEntry[]; at: number; zone: string }) {
  if (entries.length === 0) return <p class="muted">Nothing is written down yet.</p>;
  const sorted = [...entries].sort((a, b) => b.at.localeCompare(a.at));
  return (
    <ul class="care-list">
      {sorted.map((entry) => (
        <li key={entry.id}>
          <span class="care-what">
            <strong>{careWords(entry)}</strong>
            {entry.note != null && entry.note !== '' && <span class="care-note"> {entry.note}</span>}
          </span>
          <span class="muted">
            {moment(Date.parse(entry.at), at, zone)}, {entry.by}
          </span>
        </li>
      ))}
    </ul>
  );
}
