import { useState } from 'preact/hooks';
import { put } from '../http/api.ts';
import type { ProbeView } from '../http/shapes.ts';
import { refresh } from '../live/now.ts';
import { Field } from '../look/Field.tsx';
import { useSending } from '../look/useForm.ts';

/** What people call it; what it says on the wire stays its key. */
export function RenameForm({ probe, onNamed }: { probe: ProbeView; onNamed: () => Promise<void> }) {
  const [name, setName] = useState(probe.name ?? '');
  const sending = useSending();
  return (
    <form
      onSubmit={(event) => {
        event.preventDefault();
        void sending.send(async () => {
          await put(`/api/probes/${encodeURIComponent(probe.key)}`, { name: name.trim() });
          await Promise.all([onNamed(), refresh()]);
        });
      }}
    >
      <Field
        label="What you call it"
        value={name}
        onValue={setName}
        errors={sending.errors.name}
        hint={`Empty: it goes by what it says of itself, ${probe.key}.`}
      />
      <button type="submit" disabled={sending.busy}>
        {sending.busy ? 'Saving…' : 'Call it so'}
      </button>
      <p class={`form-words ${sending.done ? 'good' : ''}`} role="alert">
        {sending.done ? 'Saved.' : sending.words}
      </p>
    </form>
  );
}
