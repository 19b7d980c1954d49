import { useState } from 'preact/hooks';
import { newStep, parseOrder, type StepTexts, textsOfStep } from '../calling/order.ts';
import { get, put } from '../http/api.ts';
import type { CallOrder } from '../http/shapes.ts';
import { Field } from '../look/Field.tsx';
import { OneOf } from '../look/OneOf.tsx';
import { useSending } from '../look/useForm.ts';
import { session } from '../people/session.ts';
import { visit } from './facts.ts';
import { NightFrame } from './NightFrame.tsx';

/** Who is called first. More people, delays and repeats are on the page of calling. */
export function AskCall({ onDone }: { onDone: () => Promise<void> }) {
  const [step, setStep] = useState<StepTexts>(() => ({
    ...newStep(undefined),
    who: session.value?.name ?? '',
  }));
  const sending = useSending();
  const mail = step.channel === 'mail';
  const wrong = (field: string): string[] | undefined =>
    Object.entries(sending.errors).find(([name]) => name.endsWith(`.${field}`) || name === field)?.[1];
  const save = (): void =>
    void sending.send(async () => {
      // Whoever is on the list meanwhile stays on it.
      const { steps } = await get<CallOrder>('/api/call-out');
      const parsed = parseOrder([...steps.map(textsOfStep), step]);
      if ('steps' in parsed) await put('/api/call-out', { steps: parsed.steps });
      await onDone();
    });
  return (
    <NightFrame
      step="call"
      question="Who is called when it goes wrong?"
      why="At once, and every five minutes, until somebody presses “I am on it”. More people can be added later."
      other={
        <button type="button" onClick={() => (visit.value = { ...visit.value, callLater: true })}>
          Nobody for now
        </button>
      }
    >
      <form
        noValidate
        onSubmit={(event) => {
          event.preventDefault();
          save();
        }}
      >
        <Field
          label="Who"
          value={step.who}
          onValue={(who) => setStep({ ...step, who })}
          errors={wrong('who')}
          required
        />
        <OneOf
          label="How"
          value={step.channel}
          options={[
            { value: 'mail', word: 'by mail' },
            { value: 'webhook', word: 'by webhook' },
          ]}
          onValue={(channel) => setStep({ ...step, channel })}
          hint={
            mail
              ? undefined
              : 'A signed message that a bell, a phone service or a home automation can act on.'
          }
        />
        <Field
          label={mail ? 'Mail address' : 'Address it is posted to'}
          type={mail ? 'email' : 'url'}
          value={step.address}
          onValue={(address) => setStep({ ...step, address })}
          errors={wrong('address')}
          autocomplete={mail ? 'email' : 'off'}
          required
        />
        {!mail && (
          <Field
            label="Secret it is signed with"
            type="password"
            value={step.secret}
            onValue={(secret) => setStep({ ...step, secret })}
            errors={wrong('secret')}
            hint="From the receiver; starts with whsec_."
          />
        )}
        <p class="form-words" role="alert">
          {sending.words}
        </p>
        <button type="submit" class="main" disabled={sending.busy}>
          {sending.busy ? 'Keeping it…' : 'Call this one first'}
        </button>
      </form>
    </NightFrame>
  );
}
