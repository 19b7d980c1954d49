import type { ComponentChildren } from 'preact';
import { useId } from 'preact/hooks';

interface OneOfProps<T extends string> {
  label: string;
  value: T | '';
  options: readonly { value: T; word: string; hint?: string }[];
  onValue: (value: T) => void;
  errors?: string[] | undefined;
  hint?: ComponentChildren;
}

/** One of a few: each a press that a thumb can hit, all seen at once. */
export function OneOf<T extends string>({ label, value, options, onValue, errors, hint }: OneOfProps<T>) {
  const name = useId();
  const wrong = errors !== undefined && errors.length > 0;
  return (
    <fieldset
      class={`choices ${wrong ? 'wrong' : ''}`}
      aria-describedby={wrong ? `${name}-wrong` : undefined}
    >
      <legend>{label}</legend>
      {options.map((option) => (
        <label key={option.value} class="choice">
          <input
            type="radio"
            name={name}
            value={option.value}
            checked={option.value === value}
            onChange={() => onValue(option.value)}
          />
          <span>
            {option.word}
            {option.hint !== undefined && <small class="choice-hint">{option.hint}</small>}
          </span>
        </label>
      ))}
      {hint !== undefined && <p class="hint whole">{hint}</p>}
      {wrong && (
        <p class="wrong-words whole" id={`${name}-wrong`}>
          {errors?.join(' ')}
        </p>
      )}
    </fieldset>
  );
}
