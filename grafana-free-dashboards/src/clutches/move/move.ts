import { instantOf } from '../../words/localdate.ts';

/** When something was moved, as it is entered. */
export interface MoveTime {
  when: 'now' | 'earlier';
  date: string;
  time: string;
}

export type MoveFrom = { from?: string } | { errors: Record<string, string[]> };

/** Left out for "now", so that the clock of the service counts and not that of the phone. */
export function moveFrom(time: MoveTime, zone: string, now: number): MoveFrom {
  if (time.when === 'now') return {};
  const at = instantOf(time.date, time.time, zone);
  if (at === null) return { errors: { from: ['On which day and at what time was it moved?'] } };
  if (at > now + 5 * 60_000)
    return { errors: { from: ['The move is still to come: enter it when it has happened.'] } };
  return { from: new Date(at).toISOString().replace('.000Z', 'Z') };
}
