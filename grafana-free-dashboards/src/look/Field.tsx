import type { ComponentChildren } from 'preact';
import { useId } from 'preact/hooks';

interface FieldProps {
  label: string;
  value: string;
  onValue: (value: string) => void;
  type?: 'text' | 'password' | 'email' | 'url';
  /** A number is typed as text, so that a comma, a sign or a slip is seen and said instead of silently dropped. */
  numeric?: boolean;
  unit?: string;
  hint?: ComponentChildren;
  errors?: string[] | undefined;
  autocomplete?: string;
  required?: boolean;
}

export function Field(props: FieldProps) {
  const id = useId();
  const wrong = props.errors !== undefined && props.errors.length > 0;
  const described = [wrong ? `${id}-wrong` : '', props.hint !== undefined ? `${id}-hint` : ''].filter(
    (s) => s !== '',
  );
  return (
    <div class={`field ${wrong ? 'wrong' : ''}`}>
      <label for={id}>{props.label}</label>
      <span class="field-box">
        <input
          id={id}
          {...inputKind(props)}
          value={props.value}
          autocomplete={props.autocomplete ?? 'off'}
          autocapitalize="off"
          spellcheck={false}
          required={props.required === true}
          aria-invalid={wrong}
          aria-describedby={described.length > 0 ? described.join(' ') : undefined}
          onInput={(event) => props.onValue(event.currentTarget.value)}
        />
        {props.unit !== undefined && <span class="field-unit">{props.unit}</span>}
      </span>
      {props.hint !== undefined && (
        <p class="hint" id={`${id}-hint`}>
          {props.hint}
        </p>
      )}
      {wrong && (
        <p class="wrong-words" id={`${id}-wrong`}>
          {props.errors?.join(' ')}
        </p>
      )}
    </div>
  );
}

// The typings tell kinds of inputs apart by their type; here all are one-line texts, whatever the keyboard.
function inputKind(props: FieldProps): { type: 'text'; inputMode?: 'decimal' } {
  const type = (props.type ?? 'text') as 'text';
  return props.numeric === true ? { type, inputMode: 'decimal' } : { type };
}
