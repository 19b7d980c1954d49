import { get, put } from '../http/api.ts';
import { number } from '../words/units.ts';

export type CareKind = 'lid' | 'water' | 'fan' | 'move' | 'turn' | 'cleaning' | 'other';
export type CareOn = 'tub' | 'incubator';

export interface CareEntry {
  id: string;
  on: CareOn;
  key: string;
  kind: CareKind;
  waterGrams?: number | null;
  note?: string | null;
  by: string;
  at: string;
}

export const CARE_KINDS: readonly CareKind[] = ['lid', 'water', 'fan', 'move', 'turn', 'cleaning', 'other'];

const WORD: Record<CareKind, string> = {
  lid: 'Lid or door',
  water: 'Water',
  fan: 'Fan',
  move: 'Moved',
  turn: 'Turned',
  cleaning: 'Cleaned',
  other: 'Else',
};

export const careWord = (kind: CareKind): string => WORD[kind] ?? kind;

/** "Water, 40 g", as it is read in the list. */
export function careWords(entry: Pick<CareEntry, 'kind' | 'waterGrams'>): string {
  const grams = entry.waterGrams ?? null;
  return grams === null ? careWord(entry.kind) : `${careWord(entry.kind)}, ${number(grams, 0)}\u00a0g`;
}

export async function askCare(on: CareOn, key: string, limit: number): Promise<CareEntry[]> {
  return await get<CareEntry[]>(`/api/care?on=${on}&key=${encodeURIComponent(key)}&limit=${limit}`);
}

/** A while in a tub; lasts still when it has no end. */
export interface Stay {
  tub: string;
  from: string;
  until: string | null;
}

/** What was done with each tub while the eggs lay in it, the newest first: a tub is used again, season after season. */
export async function careDuring(stays: readonly Stay[], limit: number): Promise<CareEntry[]> {
  const tubs = [...new Set(stays.map((s) => s.tub))];
  const all = (await Promise.all(tubs.map((tub) => askCare('tub', tub, limit)))).flat();
  return all
    .filter((entry) => stays.some((s) => s.tub === entry.key && isWithin(entry.at, s)))
    .sort((a, b) => Date.parse(b.at) - Date.parse(a.at));
}

const isWithin = (at: string, { from, until }: Stay): boolean =>
  Date.parse(at) >= Date.parse(from) && (until === null || Date.parse(at) <= Date.parse(until));

/** What is to be kept; the id is made here, so that sending it again changes nothing. */
export interface CareLine {
  id: string;
  on: CareOn;
  key: string;
  kind: CareKind;
  waterGrams: number | null;
  note: string;
  at: string;
}

export async function keepCare({ id, ...line }: CareLine): Promise<void> {
  await put(`/api/care/${id}`, {
    on: line.on,
    key: line.key,
    kind: line.kind,
    ...(line.waterGrams === null ? {} : { waterGrams: line.waterGrams }),
    ...(line.note === '' ? {} : { note: line.note }),
    at: line.at,
  });
}

/** A log is evidence: a slip is not rubbed out, a second line says that it was one. */
export function takenBack(line: CareLine, id: string, at: string, clock: string): CareLine {
  const what = careWords(line).toLowerCase();
  return {
    ...line,
    id,
    kind: 'other',
    waterGrams: null,
    note: `Not so: “${what}” of ${clock} was a slip.`,
    at,
  };
}
