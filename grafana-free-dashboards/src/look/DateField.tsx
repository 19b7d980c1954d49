import { useId } from 'preact/hooks';

interface DateFieldProps {
  label: string;
  value: string;
  onValue: (value: string) => void;
  kind?: 'date' | 'time';
  max?: string;
  errors?: string[] | undefined;
}

/** A day of the calendar or a time of the day, by the phone's own wheel. */
export function DateField({ label, value, onValue, kind = 'date', max, errors }: DateFieldProps) {
  const id = useId();
  const wrong = errors !== undefined && errors.length > 0;
  return (
    <div class={`field date ${wrong ? 'wrong' : ''}`}>
      <label for={id}>{label}</label>
      <input
        id={id}
        type={kind}
        value={value}
        {...(max === undefined ? {} : { max })}
        aria-invalid={wrong}
        aria-describedby={wrong ? `${id}-wrong` : undefined}
        onInput={(event) => onValue(event.currentTarget.value)}
      />
      {wrong && (
        <p class="wrong-words" id={`${id}-wrong`}>
          {errors?.join(' ')}
        </p>
      )}
    </div>
  );
}
