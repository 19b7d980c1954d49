import { useId, useState } from 'preact/hooks';
import type { Tub } from '../clutches/new/shapes.ts';
import { post } from '../http/api.ts';
import type { IncubatorNow, ProbeView } from '../http/shapes.ts';
import { refresh } from '../live/now.ts';
import { Field } from '../look/Field.tsx';
import { useSending } from '../look/useForm.ts';
import { tubWord } from './ProbeCard.tsx';

interface PlaceFormProps {
  probe: ProbeView;
  incubators: readonly IncubatorNow[];
  tubs: readonly Tub[];
  onPlaced: () => Promise<void>;
}

/** One step: which incubator, where in it, in a tub or in the air, done. */
export function PlaceForm({ probe, incubators, tubs, onPlaced }: PlaceFormProps) {
  const [incubator, setIncubator] = useState(probe.incubator ?? incubators[0]?.key ?? '');
  const [where, setWhere] = useState(probe.where ?? '');
  const [tub, setTub] = useState(probe.tub ?? '');
  const sending = useSending();
  const inIt = tubs.filter((t) => t.incubator === incubator);
  const chosen = inIt.some((t) => t.key === tub) ? tub : '';
  return (
    <form
      class="place-form"
      onSubmit={(event) => {
        event.preventDefault();
        void sending.send(async () => {
          await post(`/api/probes/${encodeURIComponent(probe.key)}/placements`, {
            incubator,
            where: where.trim(),
            ...(chosen === '' ? {} : { tub: chosen }),
          });
          await Promise.all([onPlaced(), refresh()]);
        });
      }}
    >
      <Choice
        label="Incubator"
        value={incubator}
        onValue={setIncubator}
        options={incubators.map((i) => ({ value: i.key, word: i.name }))}
        errors={sending.errors.incubator}
      />
      <Field
        label="Where in it"
        value={where}
        onValue={setWhere}
        errors={sending.errors.where}
        hint="As you would say it: upper shelf, between the eggs."
      />
      {inIt.length > 0 && (
        <Choice
          label="In a tub"
          value={chosen}
          onValue={setTub}
          options={[
            { value: '', word: 'none: in the air' },
            ...inIt.map((t) => ({ value: t.key, word: tubWord({ tub: t.key, tubName: t.name }) })),
          ]}
          errors={sending.errors.tub}
        />
      )}
      <button type="submit" class="main" disabled={sending.busy || incubator === ''}>
        {sending.busy ? 'Placing…' : 'Place it here'}
      </button>
      <p class="form-words" role="alert">
        {sending.words}
      </p>
    </form>
  );
}

interface ChoiceProps {
  label: string;
  value: string;
  onValue: (value: string) => void;
  options: readonly { value: string; word: string }[];
  errors?: string[] | undefined;
}

function Choice({ label, value, onValue, options, errors }: ChoiceProps) {
  const id = useId();
  return (
    <div class={`field ${errors === undefined ? '' : 'wrong'}`}>
      <label for={id}>{label}</label>
      <select id={id} value={value} onChange={(event) => onValue(event.currentTarget.value)}>
        {options.map((o) => (
          <option key={o.value} value={o.value}>
            {o.word}
          </option>
        ))}
      </select>
      {errors !== undefined && <p class="wrong-words">{errors.join(' ')}</p>}
    </div>
  );
}
