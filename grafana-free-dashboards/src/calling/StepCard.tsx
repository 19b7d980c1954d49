import { Field } from '../look/Field.tsx';
import type { StepTexts } from './order.ts';
import { TestCall } from './TestCall.tsx';

interface StepCardProps {
  step: StepTexts;
  index: number;
  last: boolean;
  saved: boolean;
  errors: Record<string, string[]>;
  onChange: (step: StepTexts) => void;
  onMove: (by: number) => void;
  onRemove: () => void;
}

export function StepCard({ step, index, last, saved, errors, onChange, onMove, onRemove }: StepCardProps) {
  const wrong = (field: string): string[] | undefined =>
    errors[`steps[${index}].${field}`] ??
    errors[`steps.${index}.${field}`] ??
    (index === 0 ? errors[field] : undefined);
  const mail = step.channel === 'mail';
  return (
    <li class="call-step">
      <p class="call-place">
        <strong>{index === 0 ? 'First' : `Then, number ${index + 1}`}</strong>
      </p>
      <div class="call-fields">
        <Field
          label="Who"
          value={step.who}
          onValue={(who) => onChange({ ...step, who })}
          errors={wrong('who')}
          required
        />
        <fieldset class="choices">
          <legend>By</legend>
          {(['mail', 'webhook'] as const).map((channel) => (
            <label key={channel} class="choice">
              <input
                type="radio"
                name={`channel-${step.row}`}
                checked={step.channel === channel}
                onChange={() => onChange({ ...step, channel })}
              />
              <span>{channel}</span>
            </label>
          ))}
        </fieldset>
        <Field
          label={mail ? 'Mail address' : 'Address it is posted to'}
          type={mail ? 'email' : 'url'}
          value={step.address}
          onValue={(address) => onChange({ ...step, address })}
          errors={wrong('address')}
          required
        />
        {!mail && (
          <Field
            label="Secret it is signed with"
            type="password"
            value={step.secret}
            onValue={(secret) => onChange({ ...step, secret })}
            errors={wrong('secret')}
            hint={
              step.hasSecret
                ? 'One is kept. Leave this empty to keep it.'
                : 'From the receiver; starts with whsec_.'
            }
          />
        )}
        <Field
          label="Minutes after the alarm"
          numeric
          unit="min"
          value={step.afterMinutes}
          onValue={(afterMinutes) => onChange({ ...step, afterMinutes })}
          errors={wrong('afterSeconds')}
        />
        <Field
          label="Again every"
          numeric
          unit="min"
          value={step.repeatMinutes}
          onValue={(repeatMinutes) => onChange({ ...step, repeatMinutes })}
          errors={wrong('repeatSeconds')}
          hint="Until someone answers."
        />
      </div>
      <label class="switch">
        <input
          type="checkbox"
          checked={step.enabled}
          onChange={(event) => onChange({ ...step, enabled: event.currentTarget.checked })}
        />
        <span>Is called</span>
      </label>
      <div class="presses">
        {index > 0 && (
          <button type="button" class="quiet" onClick={() => onMove(-1)}>
            Earlier<span class="unseen"> ({step.who})</span>
          </button>
        )}
        {!last && (
          <button type="button" class="quiet" onClick={() => onMove(1)}>
            Later<span class="unseen"> ({step.who})</span>
          </button>
        )}
        <button type="button" class="quiet" onClick={onRemove}>
          Take off the list<span class="unseen"> ({step.who})</span>
        </button>
        {saved && step.id !== null && <TestCall step={step.id} who={step.who} />}
      </div>
    </li>
  );
}
