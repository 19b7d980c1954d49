// The words of candling. Shell findings and vein grades are plain trade words (common practice, no source).
import type {
  CandlingBody,
  CandlingEntry,
  OutcomeEntry,
  OutcomeKind,
  TraitSeen,
  Veins,
} from '../http/clutchShapes.ts';
import { number } from '../words/units.ts';

export const VEINS: { value: Veins; word: string }[] = [
  { value: 'none', word: 'none' },
  { value: 'spot', word: 'spot' },
  { value: 'spreading', word: 'spreading' },
  { value: 'full net', word: 'full net' },
  { value: 'fading', word: 'fading' },
  { value: 'ring', word: 'ring, dead' },
];

export const SHELL: { value: string; word: string }[] = [
  { value: 'dented', word: 'dented' },
  { value: 'sweating', word: 'sweating' },
  { value: 'leaking', word: 'leaking' },
  { value: 'window', word: 'window' },
  { value: 'mould', word: 'mould' },
  { value: 'gap', word: 'gap under the shell' },
];

export const OUTCOMES: { value: OutcomeKind; word: string }[] = [
  { value: 'first pip', word: 'first pip' },
  { value: 'out', word: 'out' },
  { value: 'dead in egg', word: 'dead in the egg' },
  { value: 'slug', word: 'slug' },
];

export const TRAIT_SEEN: { value: TraitSeen; word: string }[] = [
  { value: 'none', word: 'does not show it' },
  { value: 'one copy', word: 'one copy' },
  { value: 'two copies', word: 'two copies' },
  { value: 'carries', word: 'carries, copies not known' },
];

const wordOf = (list: readonly { value: string; word: string }[], value: string): string =>
  list.find((v) => v.value === value)?.word ?? value;

/** What an entry says, in one line: "peach, full net, moved, dented, 82.5 g". */
export function entryWords(entry: CandlingBody, tintWord: string | null): string {
  const parts = [
    tintWord ?? entry.tint,
    entry.veins === null ? null : entry.veins === 'none' ? 'no veins' : wordOf(VEINS, entry.veins),
    entry.movementSeen === null ? null : entry.movementSeen ? 'moved' : 'did not move',
    ...entry.shell.map((s) => wordOf(SHELL, s)),
    entry.looksLikeSlug === null
      ? null
      : { yes: 'looks like a slug', unsure: 'may be a slug', no: 'no slug' }[entry.looksLikeSlug],
    entry.massGrams === null ? null : `${number(entry.massGrams, entry.massGrams % 1 === 0 ? 0 : 1)}\u00a0g`,
  ].filter((p) => p !== null);
  return parts.length === 0 ? 'nothing but a note' : parts.join(', ');
}

export function outcomeWords(entry: OutcomeEntry, traitName: string | null): string {
  const seen =
    entry.traitSeen === null || entry.trait === null
      ? ''
      : entry.traitSeen === 'none'
        ? `, ${traitName ?? entry.trait} does not show`
        : `, ${traitName ?? entry.trait}: ${wordOf(TRAIT_SEEN, entry.traitSeen)}`;
  return wordOf(OUTCOMES, entry.kind) + seen;
}

export interface Shown<T> {
  entry: T;
  /** The entry that corrects it, or null when it stands. */
  correctedBy: T | null;
}

/** Newest first; what was corrected stays, with what corrected it. */
export function withCorrections<T extends { id: string; at: string; supersedes: string | null }>(
  entries: readonly T[],
): Shown<T>[] {
  return [...entries]
    .sort((a, b) => b.at.localeCompare(a.at))
    .map((entry) => ({ entry, correctedBy: entries.find((e) => e.supersedes === entry.id) ?? null }));
}

const SAME_LOOK_MS = 12 * 3_600_000;

/** Two people who looked at the same egg on the same day and saw different things: both names; null when there is none. */
export function seenDifferently(entries: readonly CandlingEntry[]): [string, string] | null {
  const standing = withCorrections(entries)
    .filter((s) => s.correctedBy === null)
    .map((s) => s.entry);
  for (const [i, a] of standing.entries()) {
    for (const b of standing.slice(i + 1)) {
      const near = Math.abs(Date.parse(a.at) - Date.parse(b.at)) < SAME_LOOK_MS;
      const other =
        (a.tint !== null && b.tint !== null && a.tint !== b.tint) ||
        (a.veins !== null && b.veins !== null && a.veins !== b.veins) ||
        (a.looksLikeSlug !== null && b.looksLikeSlug !== null && a.looksLikeSlug !== b.looksLikeSlug);
      if (a.by !== b.by && near && other) return [b.by, a.by];
    }
  }
  return null;
}
