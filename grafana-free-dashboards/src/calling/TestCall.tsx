import { post } from '../http/api.ts';
import { useSending } from '../look/useForm.ts';

/** A marked test over the same way as a real call. Sent is not received: only the person can say that. */
export function TestCall({ step, who }: { step: string; who: string }) {
  const sending = useSending();
  return (
    <>
      <button
        type="button"
        class="quiet"
        disabled={sending.busy}
        onClick={() => void sending.send(() => post('/api/call-out/tests', { step }))}
      >
        {sending.busy ? 'Sending…' : 'Send a test'}
        <span class="unseen"> to {who}</span>
      </button>
      <p class={`form-words ${sending.done ? 'good' : ''}`} role="status">
        {sending.done ? `Sent. Ask ${who} whether it rang.` : sending.words}
      </p>
    </>
  );
}
