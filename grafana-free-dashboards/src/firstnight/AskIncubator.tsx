import { useState } from 'preact/hooks';
import { post } from '../http/api.ts';
import { Field } from '../look/Field.tsx';
import { useSending } from '../look/useForm.ts';
import { NightFrame } from './NightFrame.tsx';

export function AskIncubator({ onDone }: { onDone: () => Promise<void> }) {
  const [name, setName] = useState('');
  const sending = useSending();
  return (
    <NightFrame
      step="incubator"
      question="What do you call your incubator?"
      why="The name is what is said at night: “Linden is too warm”. Short, and unlike the others, is best."
    >
      <form
        onSubmit={(event) => {
          event.preventDefault();
          void sending.send(async () => {
            await post('/api/incubators', { name: name.trim() });
            await onDone();
          });
        }}
      >
        <Field label="Its name" value={name} onValue={setName} errors={sending.errors.name} required />
        <button type="submit" class="main" disabled={sending.busy}>
          {sending.busy ? 'Setting up…' : 'That is its name'}
        </button>
        <p class="form-words" role="alert">
          {sending.words}
        </p>
      </form>
    </NightFrame>
  );
}
