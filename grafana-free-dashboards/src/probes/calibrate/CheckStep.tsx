import { useMemo, useState } from 'preact/hooks';
import { newId } from '../../care/ids.ts';
import { go } from '../../house/route.ts';
import { put } from '../../http/api.ts';
import { now, refresh, serviceNow } from '../../live/now.ts';
import { DateField } from '../../look/DateField.tsx';
import { NoteField } from '../../look/NoteField.tsx';
import { OneOf } from '../../look/OneOf.tsx';
import { Step } from '../../look/Step.tsx';
import { useSending } from '../../look/useForm.ts';
import { addDays, dateAt, instantOf } from '../../words/localdate.ts';
import { amount } from '../../words/units.ts';
import { unitIn } from '../ProbeCard.tsx';
import { correctionWords } from '../words.ts';
import { readNumber } from './draft.ts';
import { correctionOf, pointsOf, type StepParts } from './parts.ts';
import { Cautions } from './SetUpStep.tsx';

const DUE = [
  { value: '91', word: 'in 3 months' },
  { value: '182', word: 'in 6 months' },
  { value: '365', word: 'in a year' },
  { value: '', word: 'no date' },
] as const;

/** Much for a sound probe; above it something else is wrong more often than the probe. */
const MUCH = { temperature: 1, humidity: 5 } as Record<string, number>;

/** What will be so, shown on figures that matter, before it is kept. */
export function CheckStep({ draft, probe, points, frame, foot }: StepParts) {
  const zone = now.value?.zone ?? 'UTC';
  const today = dateAt(serviceNow.value, zone);
  const id = useMemo(newId, []);
  const [since, setSince] = useState<'now' | 'day'>('now');
  const [day, setDay] = useState(today);
  const [due, setDue] = useState<string>('182');
  const [note, setNote] = useState('');
  const sending = useSending();
  const line = correctionOf(draft, points);
  if (line === null) return null;
  const unit = unitIn(probe, draft.quantity);
  const say = (v: number): string => amount(v, draft.quantity, unit, 2);
  const shift = Math.abs(line.gain * usual(draft.quantity) + line.offset - usual(draft.quantity));
  const cautions = [
    ...(shift > (MUCH[draft.quantity] ?? Number.POSITIVE_INFINITY)
      ? [
          'That is much. Is the bath stirred, did it rest, is it the right probe? A sound probe is seldom so far off.',
        ]
      : []),
    ...(draft.second || draft.method !== 'ice bath'
      ? []
      : [
          'One point moves every value by the same. A second one near the warmth of the eggs says whether that is right there too.',
        ]),
  ];
  return (
    <Step
      {...frame}
      question={`From then on ${correctionWords(line, draft.quantity, unit)}.`}
      why="Readings stay as they were measured; they are corrected when they are shown and judged."
      foot={foot}
    >
      <table class="before-after">
        <thead>
          <tr>
            <th scope="col">The probe says</th>
            <th scope="col">Then it counts as</th>
          </tr>
        </thead>
        <tbody>
          {[...pointsOf(draft, points).map((p) => p.measured), usual(draft.quantity)].map((measured) => (
            <tr key={measured}>
              <td>{say(measured)}</td>
              <td>{say(line.gain * measured + line.offset)}</td>
            </tr>
          ))}
        </tbody>
      </table>
      <Cautions words={cautions} />
      <form
        onSubmit={(event) => {
          event.preventDefault();
          const from = since === 'now' ? serviceNow.peek() : instantOf(day, '00:00', zone);
          if (from === null) return sending.refuse({ from: ['A day is needed here.'] });
          void sending.send(async () => {
            await put(`/api/probes/${encodeURIComponent(probe.key)}/calibrations/${id}`, {
              quantity: draft.quantity,
              from: new Date(from).toISOString(),
              method: draft.method,
              ...(draft.method === 'saturated salt'
                ? { salt: draft.salt, atCelsius: readNumber(draft.celsius) }
                : {}),
              points: pointsOf(draft, points),
              ...(due === '' ? {} : { nextDue: addDays(today, Number(due)) }),
              ...(note.trim() === '' ? {} : { note: note.trim() }),
            });
            await refresh();
            go(`/probes/${encodeURIComponent(probe.key)}`);
          });
        }}
      >
        <OneOf
          label="Since when it holds"
          value={since}
          options={[
            { value: 'now', word: 'from now on' },
            { value: 'day', word: 'since an earlier day' },
          ]}
          onValue={setSince}
          errors={sending.errors.from}
        />
        {since === 'day' && <DateField label="Since the start of" value={day} onValue={setDay} max={today} />}
        <OneOf
          label="When it is to be done again"
          value={due as (typeof DUE)[number]['value']}
          options={DUE}
          onValue={setDue}
          errors={sending.errors.nextDue}
        />
        <NoteField label="A note, if you like" value={note} onValue={setNote} errors={sending.errors.note} />
        <button type="submit" class="main" disabled={sending.busy}>
          {sending.busy ? 'Keeping it…' : 'Correct it so'}
        </button>
        <p class="form-words" role="alert">
          {[
            sending.words,
            ...['points', 'measured', 'truth', 'method', 'salt', 'atCelsius', 'quantity'].flatMap(
              (f) => sending.errors[f] ?? [],
            ),
          ]
            .filter((w) => w !== null)
            .join(' ')}
        </p>
      </form>
    </Step>
  );
}

/** A value that matters, so that the correction is seen where the eggs are. */
const usual = (quantity: string): number => (quantity === 'humidity' ? 85 : 31.5);
