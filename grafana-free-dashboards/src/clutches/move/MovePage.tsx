import '../../look/steps.css';
import { useEffect, useState } from 'preact/hooks';
import { Link } from '../../house/Link.tsx';
import { get, wordsOf } from '../../http/api.ts';
import { now } from '../../live/now.ts';
import type { ClutchBrief, Tub } from '../new/shapes.ts';
import { MoveForm } from './MoveForm.tsx';

export function MovePage({ clutch: key }: { clutch: string }) {
  const [clutch, setClutch] = useState<ClutchBrief | null>(null);
  const [tubs, setTubs] = useState<Tub[]>([]);
  const [trouble, setTrouble] = useState<string | null>(null);
  const address = `/clutches/${encodeURIComponent(key)}`;
  const load = async (): Promise<void> => {
    try {
      const [shown, all] = await Promise.all([
        get<{ clutch: ClutchBrief }>(`/api${address}`),
        get<Tub[]>('/api/tubs'),
      ]);
      setClutch(shown.clutch);
      setTubs(all);
      setTrouble(null);
    } catch (cause) {
      setTrouble(wordsOf(cause));
    }
  };
  useEffect(() => void load(), [key]);
  return (
    <main id="main" class="page narrow step-page">
      <p class="back">
        <Link to={address} class="back-link">
          ← {clutch?.label ?? 'The clutch'}
        </Link>
      </p>
      <h1>{clutch === null ? (trouble ?? 'One moment…') : whereSentence(clutch, tubs)}</h1>
      {clutch !== null && (
        <MoveForm clutch={clutch} tubs={tubs} incubators={now.value?.incubators ?? []} onMoved={load} />
      )}
    </main>
  );
}

export function whereSentence(clutch: ClutchBrief, tubs: readonly Tub[]): string {
  if (clutch.tub === null) return `${clutch.label} lies in no tub yet.`;
  const tub = tubs.find((t) => t.key === clutch.tub)?.name ?? clutch.tub;
  return clutch.incubatorName === null
    ? `${clutch.label} lies in tub ${tub}, which stands in no incubator.`
    : `${clutch.label} lies in tub ${tub}, in ${clutch.incubatorName}.`;
}
