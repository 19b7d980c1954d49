import { useEffect, useState } from 'preact/hooks';
import { Link } from '../house/Link.tsx';
import { get, remove, wordsOf } from '../http/api.ts';
import type { Probes, ProbeView, RejectedMessage } from '../http/shapes.ts';
import { now, refresh, serviceNow } from '../live/now.ts';
import { useSending } from '../look/useForm.ts';
import { PlaceForm } from './PlaceForm.tsx';
import { marksOf, ProbeCard } from './ProbeCard.tsx';
import { RejectedMessages } from './RejectedMessages.tsx';

export function ProbesPage() {
  const [probes, setProbes] = useState<Probes | null>(null);
  const [rejected, setRejected] = useState<RejectedMessage[]>([]);
  const [trouble, setTrouble] = useState<string | null>(null);
  const load = async (): Promise<void> => {
    try {
      const [heard, refused] = await Promise.all([
        get<Probes>('/api/probes'),
        get<RejectedMessage[]>('/api/rejected-messages'),
      ]);
      setProbes(heard);
      setRejected(refused);
      setTrouble(null);
    } catch (cause) {
      setTrouble(wordsOf(cause));
    }
  };
  const asOf = now.value?.at;
  useEffect(() => void load(), [asOf]);

  const zone = now.value?.zone ?? 'UTC';
  const at = serviceNow.value;
  const incubators = now.value?.incubators ?? [];
  return (
    <main id="main" class="page">
      <h1>{probes === null ? (trouble ?? 'Asking the probes…') : probesSentence(probes)}</h1>
      {probes !== null && trouble !== null && <p class="form-words">{trouble}</p>}
      {probes !== null && (
        <>
          {probes.notPlaced.length > 0 && (
            <section class="part" aria-labelledby="not-placed">
              <h2 id="not-placed">Heard, not yet placed</h2>
              <ul class="probe-list">
                {probes.notPlaced.map((probe) => (
                  <ProbeCard key={probe.key} probe={probe} zone={zone} at={at}>
                    {incubators.length === 0 ? (
                      <Link to="/incubators/new" class="button quiet">
                        Set up an incubator for it
                      </Link>
                    ) : (
                      <PlaceForm probe={probe} incubators={incubators} onPlaced={load} />
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
                {probes.placed.map((probe) => (
                  <ProbeCard key={probe.key} probe={probe} zone={zone} at={at} linked>
                    <details>
                      <summary>Move it</summary>
                      <PlaceForm probe={probe} incubators={incubators} onPlaced={load} />
                      <TakeOut probe={probe} onTaken={load} />
                    </details>
                  </ProbeCard>
                ))}
              </ul>
            )}
          </section>
          <RejectedMessages messages={rejected} zone={zone} at={at} />
        </>
      )}
    </main>
  );
}

function TakeOut({ probe, onTaken }: { probe: ProbeView; onTaken: () => Promise<void> }) {
  const sending = useSending();
  return (
    <>
      <button
        type="button"
        class="quiet"
        disabled={sending.busy}
        onClick={() =>
          void sending.send(async () => {
            await remove(`/api/probes/${encodeURIComponent(probe.key)}/placements/current`);
            await Promise.all([onTaken(), refresh()]);
          })
        }
      >
        Take it out<span class="unseen"> ({probe.name ?? probe.key})</span>
      </button>
      <p class="form-words" role="alert">
        {sending.words}
      </p>
    </>
  );
}

export function probesSentence(probes: Probes): string {
  const count = probes.placed.length;
  if (count === 0 && probes.notPlaced.length === 0) return 'No probe has been heard yet.';
  const marked = [...probes.placed, ...probes.notPlaced].filter((p) => marksOf(p).length > 0);
  const parts: string[] = [];
  if (probes.notPlaced.length > 0) {
    parts.push(
      `${probes.notPlaced.length === 1 ? 'One probe waits' : `${probes.notPlaced.length} probes wait`} to be placed`,
    );
  }
  const [first] = marked;
  if (marked.length === 1 && first !== undefined) parts.push(`${first.name ?? first.key} needs a look`);
  else if (marked.length > 1) parts.push(`${marked.length} probes need a look`);
  if (parts.length === 0)
    return count === 1 ? 'The one probe speaks as it should.' : `All ${count} probes speak as they should.`;
  const sentence = parts.join(', and ');
  return `${sentence.charAt(0).toUpperCase()}${sentence.slice(1)}.`;
}
