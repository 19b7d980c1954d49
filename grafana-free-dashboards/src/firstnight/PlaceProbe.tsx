import { useState } from 'preact/hooks';
import { post } from '../http/api.ts';
import { Field } from '../look/Field.tsx';
import { OneOf } from '../look/OneOf.tsx';
import { useSending } from '../look/useForm.ts';
import { heardWords } from '../probes/ProbeCard.tsx';
import { amount } from '../words/units.ts';
import type { NightState } from './facts.ts';
import { NightFrame } from './NightFrame.tsx';

interface PlaceProbeProps {
  state: NightState;
  zone: string;
  at: number;
  onDone: () => Promise<void>;
}

export const PLACES = ['air, upper shelf', 'air, lower shelf', 'between the eggs'] as const;
const ELSEWHERE = 'elsewhere';

/** A probe was heard: is it this one, and where is it? With one probe and one incubator that is one press. */
export function PlaceProbe({ state, zone, at, onDone }: PlaceProbeProps) {
  const { notPlaced } = state.probes;
  const { incubators } = state.facts;
  const [probe, setProbe] = useState(notPlaced[0]?.key ?? '');
  const [incubator, setIncubator] = useState(incubators[0]?.key ?? '');
  const [where, setWhere] = useState<string>(PLACES[0]);
  const [own, setOwn] = useState('');
  const sending = useSending();
  const chosen = notPlaced.find((p) => p.key === probe) ?? notPlaced[0];
  const into = incubators.find((i) => i.key === incubator) ?? incubators[0];
  if (chosen === undefined || into === undefined) return null;
  const first = chosen.series[0];
  const value = first === undefined ? '' : amount(first.value, first.quantity, first.unit);
  return (
    <NightFrame
      step="probe"
      question={
        notPlaced.length === 1
          ? `${chosen.name ?? chosen.key} is heard. Where is it?`
          : 'Which is yours, and where is it?'
      }
      why={
        first === undefined
          ? undefined
          : `It says ${value}, ${heardWords(first, at, zone)}. Warm it in your hand and see it rise, if you are not sure that it is this one.`
      }
    >
      <form
        onSubmit={(event) => {
          event.preventDefault();
          void sending.send(async () => {
            await post(`/api/probes/${encodeURIComponent(chosen.key)}/placements`, {
              incubator: into.key,
              where: where === ELSEWHERE ? own.trim() : where,
            });
            await onDone();
          });
        }}
      >
        {notPlaced.length > 1 && (
          <OneOf
            label="The probe"
            value={chosen.key}
            options={notPlaced.map((p) => ({
              value: p.key,
              word: p.name ?? p.key,
              hint: latestWords(p.series),
            }))}
            onValue={setProbe}
          />
        )}
        {incubators.length > 1 && (
          <OneOf
            label="The incubator"
            value={into.key}
            options={incubators.map((i) => ({ value: i.key, word: i.name }))}
            onValue={setIncubator}
            errors={sending.errors.incubator}
          />
        )}
        <OneOf
          label={`Where in ${into.name}`}
          value={where}
          options={[
            ...PLACES.map((p) => ({ value: p as string, word: p })),
            { value: ELSEWHERE, word: 'elsewhere' },
          ]}
          onValue={setWhere}
          errors={where === ELSEWHERE ? undefined : sending.errors.where}
        />
        {where === ELSEWHERE && (
          <Field label="Where" value={own} onValue={setOwn} errors={sending.errors.where} required />
        )}
        <button type="submit" class="main" disabled={sending.busy}>
          {sending.busy ? 'Placing…' : `It is there, in ${into.name}`}
        </button>
        <p class="form-words" role="alert">
          {sending.words}
        </p>
      </form>
    </NightFrame>
  );
}

function latestWords(series: NightState['probes']['notPlaced'][number]['series']): string {
  return series.map((s) => amount(s.value, s.quantity, s.unit)).join(', ');
}
