import { useState } from 'preact/hooks';
import { Field } from '../look/Field.tsx';
import { useSending } from '../look/useForm.ts';
import { signIn } from './session.ts';

export function SignInPage({ facility }: { facility: string }) {
  const [name, setName] = useState('');
  const [password, setPassword] = useState('');
  const sending = useSending();
  return (
    <main id="main" class="page alone">
      <h1>Who is looking?</h1>
      <p class="next">{facility} is shown to its people only. Alarms go on calling meanwhile.</p>
      <form
        onSubmit={(event) => {
          event.preventDefault();
          void sending.send(() => signIn(name.trim(), password));
        }}
      >
        <Field
          label="Your name"
          value={name}
          onValue={setName}
          autocomplete="username"
          errors={sending.errors.name}
          required
        />
        <Field
          label="Your password"
          type="password"
          value={password}
          onValue={setPassword}
          autocomplete="current-password"
          errors={sending.errors.password}
          required
        />
        <button type="submit" class="main" disabled={sending.busy}>
          {sending.busy ? 'Signing in…' : 'Sign in'}
        </button>
        <p class="form-words" role="alert">
          {sending.words}
        </p>
      </form>
    </main>
  );
}
