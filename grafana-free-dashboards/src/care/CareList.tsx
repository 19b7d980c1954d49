import { dayAndClock, moment } from '../words/times.ts';
import { type CareEntry, careWords } from './entries.ts';

interface CareListProps {
  entries: readonly CareEntry[];
  at: number;
  zone: string;
  /** With the day always, as on paper, where "today" is soon no more. */
  dated?: boolean;
}

/** The log, newest first: what, when, by whom. */
export function CareList({ entries, at, zone, dated = false }: CareListProps) {
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
            {dated ? dayAndClock(Date.parse(entry.at), zone) : moment(Date.parse(entry.at), at, zone)},{' '}
            {entry.by}
          </span>
        </li>
      ))}
    </ul>
  );
}
