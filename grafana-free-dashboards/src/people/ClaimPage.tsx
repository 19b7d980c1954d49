import { useState } from 'preact/hooks';
import { go } from '../house/route.ts';
import { Field } from '../look/Field.tsx';
import { useSending } from '../look/useForm.ts';
import { claim } from './session.ts';

export function ClaimPage() {
  const [code, setCode] = useState('');
  const [name, setName] = useState('');
  const [password, setPassword] = useState('');
  const sending = useSending();
  return (
    <main id="main" class="page alone">
      <h1>Is this facility yours?</h1>
      <p class="next">
        Nobody owns it yet. The service wrote a one-time code to its log when it started: whoever can read the
        log may claim it. Until then it answers on this computer only.
      </p>
      <form
        onSubmit={(event) => {
          event.preventDefault();
          void sending.send(async () => {
            await claim(code.trim(), name.trim(), password);
            // Nothing is watched yet: the first night goes on with the incubator.
            go('/first-night');
          });
        }}
      >
        <Field
          label="The code from the log"
          value={code}
          onValue={setCode}
          errors={sending.errors.code}
          required
        />
        <Field
          label="Your name, as others see it when you answer"
          value={name}
          onValue={setName}
          autocomplete="username"
          errors={sending.errors.name}
          required
        />
        <Field
          label="A password"
          type="password"
          value={password}
          onValue={setPassword}
          autocomplete="new-password"
          errors={sending.errors.password}
          hint="Long rather than strange: a few words in a row are good."
          required
        />
        <button type="submit" class="main" disabled={sending.busy}>
          {sending.busy ? 'Claiming…' : 'It is mine'}
        </button>
        <p class="form-words" role="alert">
          {sending.words}
        </p>
      </form>
    </main>
  );
}
