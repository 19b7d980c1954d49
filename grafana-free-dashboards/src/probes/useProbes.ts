import { useEffect, useState } from 'preact/hooks';
import type { Tub } from '../clutches/new/shapes.ts';
import { get, wordsOf } from '../http/api.ts';
import type { Probes } from '../http/shapes.ts';
import { now } from '../live/now.ts';

export interface ProbesNow {
  probes: Probes | null;
  trouble: string | null;
  load: () => Promise<void>;
}

/** All probes, asked for anew whenever the first screen was. */
export function useProbes(): ProbesNow {
  const [probes, setProbes] = useState<Probes | null>(null);
  const [trouble, setTrouble] = useState<string | null>(null);
  const load = async (): Promise<void> => {
    try {
      setProbes(await get<Probes>('/api/probes'));
      setTrouble(null);
    } catch (cause) {
      setTrouble(wordsOf(cause));
    }
  };
  const asOf = now.value?.at;
  useEffect(() => void load(), [asOf]);
  return { probes, trouble, load };
}

/** Tubs to choose from; without them a probe is placed all the same. */
export function useTubs(): readonly Tub[] {
  const [tubs, setTubs] = useState<readonly Tub[]>([]);
  useEffect(() => {
    get<Tub[]>('/api/tubs').then(
      (found) => setTubs(Array.isArray(found) ? found : []),
      () => undefined,
    );
  }, []);
  return tubs;
}
