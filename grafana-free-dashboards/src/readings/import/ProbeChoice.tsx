import { useId, useState } from 'preact/hooks';
import { Field } from '../../look/Field.tsx';

interface ProbeChoiceProps {
  label: string;
  /** Key of the probe; null while nothing is chosen, empty to leave it out. */
  value: string | null;
  known: readonly { key: string; name: string | null }[];
  canLeaveOut?: boolean;
  errors?: string[] | undefined;
  onValue: (key: string | null) => void;
}

const NEW = '\u0000new';
const OUT = '\u0000out';

/** A probe that is there, or the name of a new one. */
export function ProbeChoice({ label, value, known, canLeaveOut = false, errors, onValue }: ProbeChoiceProps) {
  const id = useId();
  const isKnown = known.some((probe) => probe.key === value);
  const [fresh, setFresh] = useState(value !== null && value !== '' && !isKnown);
  const wrong = errors !== undefined && errors.length > 0;
  const chosen = fresh ? NEW : value === null ? '' : value === '' ? OUT : value;
  return (
    <div class={`import-choice ${wrong ? 'wrong' : ''}`}>
      <div class="field">
        <label for={id}>{label}</label>
        <select
          id={id}
          value={chosen}
          onChange={(event) => {
            const next = event.currentTarget.value;
            setFresh(next === NEW);
            onValue(next === OUT ? '' : next === NEW || next === '' ? null : next);
          }}
        >
          <option value="">Say which…</option>
          {known.map((probe) => (
            <option key={probe.key} value={probe.key}>
              {probe.name === null ? probe.key : `${probe.name} (${probe.key})`}
            </option>
          ))}
          <option value={NEW}>A new probe…</option>
          {canLeaveOut && <option value={OUT}>Leave these readings out</option>}
        </select>
      </div>
      {fresh && (
        <Field
          label="Its name in topics"
          value={value ?? ''}
          onValue={(key) => onValue(key.trim() === '' ? null : key.trim())}
        />
      )}
      {wrong && <p class="wrong-words">{errors?.join(' ')}</p>}
    </div>
  );
}
