import { useEffect, useState } from 'preact/hooks';
import { Link } from '../house/Link.tsx';
import { get } from '../http/api.ts';
import type { ProbeView, RejectedMessage } from '../http/shapes.ts';
import { now, serviceNow } from '../live/now.ts';
import { PlaceForm } from './PlaceForm.tsx';
import { ProbeCard } from './ProbeCard.tsx';
import { RejectedMessages } from './RejectedMessages.tsx';
import { RenameForm } from './RenameForm.tsx';
import { lookFirst } from './rank.ts';
import { SeenButton } from './SeenButton.tsx';
import { TakeOut } from './TakeOut.tsx';
import { useProbes, useTubs } from './useProbes.ts';
import { probesSentence } from './words.ts';

export function ProbesPage() {
  const { probes, trouble, load } = useProbes();
  const tubs = useTubs();
  const [rejected, setRejected] = useState<RejectedMessage[]>([]);
  const asOf = now.value?.at;
  useEffect(() => {
    get<RejectedMessage[]>('/api/rejected-messages').then(setRejected, () => undefined);
  }, [asOf]);

  const zone = now.value?.zone ?? 'UTC';
  const at = serviceNow.value;
  const incubators = now.value?.incubators ?? [];
  if (probes === null) {
    return (
      <main id="main" class="page">
        <h1>{trouble ?? 'Asking the probes…'}</h1>
      </main>
    );
  }
  const all = [...probes.placed, ...probes.notPlaced];
  const looked = all.filter((p) => p.series.some((s) => s.sinceLooked != null));
  const place = (probe: ProbeView) => (
    <PlaceForm probe={probe} incubators={incubators} tubs={tubs} onPlaced={load} />
  );
  return (
    <main id="main" class="page">
      <h1>{probesSentence(probes)}</h1>
      <p class="next">
        {looked.length > 0
          ? 'Least and most are since you last looked.'
          : 'Say that you have seen them, and least and most are kept for you from then on.'}{' '}
        <Link to="/keeping">Where readings are kept</Link>
      </p>
      {trouble !== null && <p class="form-words">{trouble}</p>}
      {all.length > 1 && <SeenButton probes={all} word="I have seen them all" onSeen={load} />}
      {probes.notPlaced.length > 0 && (
        <section class="part" aria-labelledby="not-placed">
          <h2 id="not-placed">Heard, not yet placed</h2>
          <ul class="probe-list">
            {lookFirst(probes.notPlaced, at, zone).map((probe) => (
              <ProbeCard key={probe.key} probe={probe} zone={zone} at={at}>
                {incubators.length === 0 ? (
                  <Link to="/new-incubator" class="button quiet">
                    Set up an incubator for it
                  </Link>
                ) : (
                  place(probe)
                )}
              </ProbeCard>
            ))}
          </ul>
        </section>
      )}
      <section class="part" aria-labelledby="placed">
        <h2 id="placed">Placed</h2>
        {probes.placed.length === 0 ? (
          <p class="muted">
            None yet. <Link to="/first-night">See where a probe has to speak to be heard.</Link>
          </p>
        ) : (
          <ul class="probe-list">
            {lookFirst(probes.placed, at, zone).map((probe) => (
              <ProbeCard key={probe.key} probe={probe} zone={zone} at={at} linked>
                <div class="probe-presses">
                  <SeenButton probes={[probe]} word="Seen" onSeen={load} />
                  <details>
                    <summary>Move or rename</summary>
                    {place(probe)}
                    <TakeOut probe={probe} onTaken={load} />
                    <RenameForm probe={probe} onNamed={load} />
                  </details>
                </div>
              </ProbeCard>
            ))}
          </ul>
        )}
      </section>
      <RejectedMessages messages={rejected} zone={zone} at={at} />
    </main>
  );
}
