import { useEffect, useRef, useState } from 'preact/hooks';
import { outbox, taken } from '../candling/outbox.ts';
import { get, wordsOf } from '../http/api.ts';
import type { ClutchPageView, Strip, TintTerm } from '../http/clutchShapes.ts';
import { now } from '../live/now.ts';
import { degree } from '../words/units.ts';
import { withUnsent } from './unsent.ts';

export interface ClutchData {
  page: ClutchPageView | null;
  strip: Strip | null;
  tints: TintTerm[];
  trouble: string | null;
  reload: () => Promise<void>;
}

const PAGE_EVERY_MS = 30_000;
const STRIP_EVERY_MS = 5 * 60_000;

/** A clutch as the service has it, with what was entered here and is still on its way. */
export function useClutch(key: string): ClutchData {
  const [page, setPage] = useState<ClutchPageView | null>(null);
  const [strip, setStrip] = useState<Strip | null>(null);
  const [tints, setTints] = useState<TintTerm[]>([]);
  const [trouble, setTrouble] = useState<string | null>(null);
  const stripAt = useRef(0);
  const pageAt = useRef(0);
  const newest = useRef(0);
  const path = `/api/clutches/${encodeURIComponent(key)}`;
  const unit = degree.value;

  const load = async (withStrip: boolean): Promise<void> => {
    newest.current++;
    pageAt.current = Date.now();
    const asked = newest.current;
    try {
      const shown = await get<ClutchPageView>(`${path}?temperature=${unit}`);
      if (asked !== newest.current) return;
      setPage(shown);
      setTrouble(null);
      if (withStrip || Date.now() - stripAt.current > STRIP_EVERY_MS) {
        stripAt.current = Date.now();
        setStrip(await get<Strip>(`${path}/strip?buckets=400`));
      }
    } catch (cause) {
      if (asked === newest.current) setTrouble(wordsOf(cause));
    }
  };
  const at = now.value?.at;
  const reached = taken.value;
  useEffect(() => void load(true), [key, unit, reached]);
  useEffect(() => {
    if (at !== undefined && Date.now() - pageAt.current > PAGE_EVERY_MS) void load(false);
  }, [at]);
  useEffect(() => {
    get<TintTerm[]>('/api/tints').then(setTints, () => undefined);
  }, []);

  const shown = page === null ? null : { ...page, eggs: withUnsent(page.eggs, outbox.value, key, tints) };
  return { page: shown, strip, tints, trouble, reload: () => load(true) };
}
