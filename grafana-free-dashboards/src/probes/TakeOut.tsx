import { remove } from '../http/api.ts';
import type { ProbeView } from '../http/shapes.ts';
import { refresh } from '../live/now.ts';
import { useSending } from '../look/useForm.ts';

export function TakeOut({ probe, onTaken }: { probe: ProbeView; onTaken: () => Promise<void> }) {
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
