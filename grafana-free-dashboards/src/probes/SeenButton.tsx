import { post } from '../http/api.ts';
import type { ProbeView } from '../http/shapes.ts';
import { useSending } from '../look/useForm.ts';

/** "Seen": from now on, least and most begin anew for this person. */
export function SeenButton(props: {
  probes: readonly ProbeView[];
  word: string;
  onSeen: () => Promise<void>;
}) {
  const { probes, word, onSeen } = props;
  const sending = useSending();
  const only = probes.length === 1 ? probes[0] : undefined;
  return (
    <div class="seen">
      <button
        type="button"
        disabled={sending.busy}
        onClick={() =>
          void sending.send(async () => {
            for (const p of probes) await post(`/api/probes/${encodeURIComponent(p.key)}/looks`);
            await onSeen();
          })
        }
      >
        {word}
        {only !== undefined && <span class="unseen"> ({only.name ?? only.key})</span>}
      </button>
      <p class="form-words" role="alert">
        {sending.words}
      </p>
    </div>
  );
}
