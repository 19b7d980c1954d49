import { useId } from 'preact/hooks';

interface NoteFieldProps {
  label: string;
  value: string;
  onValue: (value: string) => void;
  errors?: string[] | undefined;
}

/** A few lines of the keeper's own words; shown as they are, never read as anything else. */
export function NoteField({ label, value, onValue, errors }: NoteFieldProps) {
  const id = useId();
  const wrong = errors !== undefined && errors.length > 0;
  return (
    <div class={`field ${wrong ? 'wrong' : ''}`}>
      <label for={id}>{label}</label>
      <textarea
        id={id}
        rows={2}
        value={value}
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
