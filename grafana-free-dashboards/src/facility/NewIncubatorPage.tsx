import { useState } from 'preact/hooks';
import { go } from '../house/route.ts';
import { post } from '../http/api.ts';
import { refresh } from '../live/now.ts';
import { Field } from '../look/Field.tsx';
import { useSending } from '../look/useForm.ts';

export function NewIncubatorPage() {
  const [name, setName] = useState('');
  const sending = useSending();
  return (
    <main id="main" class="page narrow">
      <h1>What do you call the incubator?</h1>
      <p class="next">
        The name is what is said at night: “Linden is too warm”. Short and unlike the others is best.
      </p>
      <form
        onSubmit={(event) => {
          event.preventDefault();
          void sending.send(async () => {
            const made = await post<{ key: string }>('/api/incubators', { name: name.trim() });
            await refresh();
            go(`/incubators/${encodeURIComponent(made.key)}`);
          });
        }}
      >
        <Field label="Its name" value={name} onValue={setName} errors={sending.errors.name} required />
        <button type="submit" class="main" disabled={sending.busy}>
          {sending.busy ? 'Setting up…' : 'Set it up'}
        </button>
        <p class="form-words" role="alert">
          {sending.words}
        </p>
      </form>
    </main>
  );
}
