import { useId, useState } from 'preact/hooks';
import { post } from '../http/api.ts';
import type { IncubatorNow, ProbeView } from '../http/shapes.ts';
import { refresh } from '../live/now.ts';
import { Field } from '../look/Field.tsx';
import { useSending } from '../look/useForm.ts';

interface PlaceFormProps {
  probe: ProbeView;
  incubators: readonly IncubatorNow[];
  onPlaced: () => Promise<void>;
}

/** One step: which incubator, where in it, done. */
export function PlaceForm({ probe, incubators, onPlaced }: PlaceFormProps) {
  const [incubator, setIncubator] = useState(probe.incubator ?? incubators[0]?.key ?? '');
  const [where, setWhere] = useState(probe.where ?? '');
  const sending = useSending();
  const id = useId();
  const wrong = sending.errors.incubator;
  return (
    <form
      class="place-form"
      onSubmit={(event) => {
        event.preventDefault();
        void sending.send(async () => {
          await post(`/api/probes/${encodeURIComponent(probe.key)}/placements`, {
            incubator,
            where: where.trim(),
          });
          await Promise.all([onPlaced(), refresh()]);
        });
      }}
    >
      <div class={`field ${wrong === undefined ? '' : 'wrong'}`}>
        <label for={id}>Incubator</label>
        <select id={id} value={incubator} onChange={(event) => setIncubator(event.currentTarget.value)}>
          {incubators.map((i) => (
            <option key={i.key} value={i.key}>
              {i.name}
            </option>
          ))}
        </select>
        {wrong !== undefined && <p class="wrong-words">{wrong.join(' ')}</p>}
      </div>
      <Field
        label="Where in it"
        value={where}
        onValue={setWhere}
        errors={sending.errors.where}
        hint="As you would say it: upper shelf, between the eggs of tub 2."
      />
      <button type="submit" class="main" disabled={sending.busy || incubator === ''}>
        {sending.busy ? 'Placing…' : 'Place it here'}
      </button>
      <p class="form-words" role="alert">
        {sending.words}
      </p>
    </form>
  );
}
