import { useState } from 'preact/hooks';
import { post } from '../../http/api.ts';
import type { IncubatorNow } from '../../http/shapes.ts';
import { now, refresh, serviceNow } from '../../live/now.ts';
import { DateField } from '../../look/DateField.tsx';
import { Field } from '../../look/Field.tsx';
import { OneOf } from '../../look/OneOf.tsx';
import { useSending } from '../../look/useForm.ts';
import { dateAt, timeAt } from '../../words/localdate.ts';
import type { ClutchBrief, Tub } from '../new/shapes.ts';
import { type MoveTime, moveFrom } from './move.ts';

interface MoveFormProps {
  clutch: ClutchBrief;
  tubs: readonly Tub[];
  incubators: readonly IncubatorNow[];
  onMoved: () => Promise<void>;
}

type What = 'tub' | 'eggs';

/** The tub into another incubator, or the eggs into another tub; now, or when it was. */
export function MoveForm({ clutch, tubs, incubators, onMoved }: MoveFormProps) {
  const zone = now.value?.zone ?? 'UTC';
  const at = serviceNow.value;
  const [what, setWhat] = useState<What>(clutch.tub === null ? 'eggs' : 'tub');
  const [incubator, setIncubator] = useState('');
  const [shelf, setShelf] = useState('');
  const [tub, setTub] = useState('');
  const [tubName, setTubName] = useState('');
  const [substrate, setSubstrate] = useState('');
  const [time, setTime] = useState<MoveTime>({ when: 'now', date: dateAt(at, zone), time: timeAt(at, zone) });
  const sending = useSending();
  const fresh = what === 'eggs' && tub === NEW_TUB;
  const move = (): void => {
    const when = moveFrom(time, zone, serviceNow.value);
    if ('errors' in when) {
      sending.refuse(when.errors);
      return;
    }
    if (what === 'tub' && incubator === '') {
      sending.refuse({ incubator: ['Into which incubator?'] });
      return;
    }
    if (what === 'eggs' && tub === '') {
      sending.refuse({ tub: ['Into which tub?'] });
      return;
    }
    void sending.send(async () => {
      if (what === 'tub') {
        await post(`/api/tubs/${encodeURIComponent(clutch.tub ?? '')}/placements`, {
          incubator,
          ...(shelf.trim() === '' ? {} : { shelf: shelf.trim() }),
          ...when,
        });
      } else {
        const into = fresh ? await newTub() : tub;
        setTub(into);
        await post(`/api/clutches/${encodeURIComponent(clutch.key)}/placements`, { tub: into, ...when });
      }
      await Promise.all([onMoved(), refresh()]);
    });
  };
  const newTub = async (): Promise<string> => {
    const made = await post<{ key: string }>('/api/tubs', {
      name: tubName.trim(),
      substrate: substrate.trim(),
      ...(incubator === '' ? {} : { incubator }),
    });
    return made.key;
  };
  const places = (
    <OneOf
      label={what === 'tub' ? 'Into' : 'The new tub stands in'}
      value={incubator}
      options={incubators.map((i) => ({ value: i.key, word: i.name }))}
      onValue={setIncubator}
      errors={sending.errors.incubator}
    />
  );
  return (
    <form
      noValidate
      onSubmit={(event) => {
        event.preventDefault();
        move();
      }}
    >
      {clutch.tub !== null && (
        <OneOf
          label="What is moved"
          value={what}
          options={[
            { value: 'tub', word: 'the tub, to another place' },
            { value: 'eggs', word: 'the eggs, to another tub' },
          ]}
          onValue={setWhat}
        />
      )}
      {what === 'eggs' && (
        <OneOf
          label="Into"
          value={tub}
          options={[
            ...tubs.filter((t) => t.key !== clutch.tub).map((t) => ({ value: t.key, word: t.name })),
            { value: NEW_TUB, word: 'a new tub' },
          ]}
          onValue={setTub}
          errors={sending.errors.tub}
        />
      )}
      {fresh && (
        <>
          <Field
            label="What is written on it"
            value={tubName}
            onValue={setTubName}
            errors={sending.errors.name}
          />
          <Field
            label="They lie on"
            value={substrate}
            onValue={setSubstrate}
            errors={sending.errors.substrate}
          />
        </>
      )}
      {(what === 'tub' || fresh) && places}
      {what === 'tub' && (
        <Field
          label="Shelf"
          value={shelf}
          onValue={setShelf}
          errors={sending.errors.shelf}
          hint="May be left out."
        />
      )}
      <OneOf
        label="When"
        value={time.when}
        options={[
          { value: 'now', word: 'just now' },
          { value: 'earlier', word: 'earlier' },
        ]}
        onValue={(when) => setTime({ ...time, when })}
      />
      {time.when === 'earlier' && (
        <div class="presses">
          <DateField
            label="On"
            value={time.date}
            max={dateAt(at, zone)}
            onValue={(date) => setTime({ ...time, date })}
          />
          <DateField
            label="at"
            kind="time"
            value={time.time}
            onValue={(clock) => setTime({ ...time, time: clock })}
          />
        </div>
      )}
      {sending.errors.from !== undefined && <p class="wrong-words">{sending.errors.from.join(' ')}</p>}
      <button type="submit" class="main" disabled={sending.busy}>
        {sending.busy ? 'Moving…' : 'It is moved'}
      </button>
      <p class={`form-words ${sending.done ? 'good' : ''}`} role="status">
        {sending.done ? 'Kept. Its readings count from then on where it lies now.' : sending.words}
      </p>
    </form>
  );
}

const NEW_TUB = '\u0000new';
