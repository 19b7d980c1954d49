// One look at one egg while it is being entered, and what is sent of it.
import type { CandlingBody, CandlingEntry, EggView, SlugLook, Veins } from '../http/clutchShapes.ts';

export interface Draft {
  /** Made on this phone, so that sending it twice changes nothing. */
  id: string;
  egg: number;
  tint: string | null;
  veins: Veins | null;
  movementSeen: boolean | null;
  shell: string[];
  looksLikeSlug: SlugLook | null;
  /** As typed: a slip is said, not dropped. */
  mass: string;
  note: string;
  supersedes: string | null;
}

export function newId(): string {
  // Without https a browser may lack randomUUID; the numbers are as random either way.
  if (typeof crypto.randomUUID === 'function') return crypto.randomUUID();
  const bytes = crypto.getRandomValues(new Uint8Array(16));
  bytes[6] = ((bytes[6] ?? 0) & 0x0f) | 0x40;
  bytes[8] = ((bytes[8] ?? 0) & 0x3f) | 0x80;
  const hex = [...bytes].map((b) => b.toString(16).padStart(2, '0')).join('');
  return `${hex.slice(0, 8)}-${hex.slice(8, 12)}-${hex.slice(12, 16)}-${hex.slice(16, 20)}-${hex.slice(20)}`;
}

export function newDraft(egg: number): Draft {
  return {
    id: newId(),
    egg,
    tint: null,
    veins: null,
    movementSeen: null,
    shell: [],
    looksLikeSlug: null,
    mass: '',
    note: '',
    supersedes: null,
  };
}

/** A correction begins as what it corrects, and is an entry of its own. */
export function correctionOf(entry: CandlingEntry): Draft {
  return {
    id: newId(),
    egg: entry.egg,
    tint: entry.tint,
    veins: entry.veins,
    movementSeen: entry.movementSeen,
    shell: [...entry.shell],
    looksLikeSlug: entry.looksLikeSlug,
    mass: entry.massGrams === null ? '' : String(entry.massGrams),
    note: entry.note ?? '',
    supersedes: entry.id,
  };
}

/** Taking an entry back is a correction too: it says that nothing was seen, and the first one stays readable. */
export function takenBack(entry: { id: string; egg: number }, at: Date): { id: string; body: CandlingBody } {
  const draft = newDraft(entry.egg);
  return {
    id: draft.id,
    body: { ...bodyFields(draft, null), note: 'Taken back.', at: at.toISOString(), supersedes: entry.id },
  };
}

export function isEmpty(draft: Draft): boolean {
  return (
    draft.tint === null &&
    draft.veins === null &&
    draft.movementSeen === null &&
    draft.shell.length === 0 &&
    draft.looksLikeSlug === null &&
    draft.mass.trim() === '' &&
    draft.note.trim() === ''
  );
}

export type Ready = { body: CandlingBody } | { errors: Record<string, string[]> };

export function bodyOf(draft: Draft, at: Date): Ready {
  const mass = massOf(draft.mass);
  if (mass === 'wrong')
    return { errors: { massGrams: ['A number of grams, such as 82.5, or leave it empty.'] } };
  return { body: { ...bodyFields(draft, mass), at: at.toISOString() } };
}

function bodyFields(draft: Draft, mass: number | null): Omit<CandlingBody, 'at'> {
  const note = draft.note.trim();
  return {
    egg: draft.egg,
    tint: draft.tint,
    veins: draft.veins,
    movementSeen: draft.movementSeen,
    shell: draft.shell,
    looksLikeSlug: draft.looksLikeSlug,
    massGrams: mass,
    note: note === '' ? null : note,
    supersedes: draft.supersedes,
  };
}

/** A comma is a decimal point on many a keyboard. */
export function massOf(text: string): number | null | 'wrong' {
  const plain = text.trim().replace(',', '.');
  if (plain === '') return null;
  const value = Number(plain);
  return /^\d{1,4}(\.\d{1,3})?$/.test(plain) && value > 0 ? value : 'wrong';
}

/** Looked at in this round: within the last hours. */
const ROUND_MS = 6 * 3_600_000;

export function lookedAtNow(egg: EggView, now: number): boolean {
  return egg.lastAt !== null && now - Date.parse(egg.lastAt) < ROUND_MS;
}

const OVER = new Set(['dead', 'hatched', 'pipped']);

/** The next egg worth a look: by number, from the one in hand onwards and round, those left out that were just looked at or are over. */
export function nextEgg(eggs: readonly EggView[], current: number | null, now: number): EggView | null {
  const open = eggs
    .filter((e) => e.number !== current && !lookedAtNow(e, now) && !OVER.has(e.status) && e.outcome === null)
    .sort((a, b) => a.number - b.number);
  return open.find((e) => e.number > (current ?? 0)) ?? open[0] ?? null;
}

/** How many of those worth a look are done in this round. */
export function roundOf(eggs: readonly EggView[], now: number): { done: number; of: number } {
  const worth = eggs.filter((e) => !OVER.has(e.status) && e.outcome === null);
  return { done: worth.filter((e) => lookedAtNow(e, now)).length, of: worth.length };
}
