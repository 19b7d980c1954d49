import './care.css';
import { useEffect, useState } from 'preact/hooks';
import { wordsOf } from '../http/api.ts';
import { now, serviceNow } from '../live/now.ts';
import { Field } from '../look/Field.tsx';
import { NoteField } from '../look/NoteField.tsx';
import { useSending } from '../look/useForm.ts';
import { clock } from '../words/times.ts';
import { CareList } from './CareList.tsx';
import {
  askCare,
  CARE_KINDS,
  type CareEntry,
  type CareKind,
  type CareLine,
  type CareOn,
  careWord,
  careWords,
  keepCare,
  takenBack,
} from './entries.ts';
import { newId } from './ids.ts';

interface CareButtonsProps {
  on: CareOn;
  keyOf: string;
  /** How many lines of the log are shown at first. */
  limit?: number;
}

/** The care log of a tub or an incubator: two presses, what and done. A note or grams may come between. */
export function CareButtons({ on, keyOf, limit = 6 }: CareButtonsProps) {
  const [kind, setKind] = useState<CareKind | null>(null);
  const [note, setNote] = useState('');
  const [grams, setGrams] = useState('');
  const [id, setId] = useState(newId);
  const [last, setLast] = useState<CareLine | null>(null);
  const [entries, setEntries] = useState<CareEntry[]>([]);
  const [trouble, setTrouble] = useState<string | null>(null);
  const sending = useSending();
  const zone = now.value?.zone ?? 'UTC';
  const load = async (): Promise<void> => {
    try {
      setEntries(await askCare(on, keyOf, limit));
      setTrouble(null);
    } catch (cause) {
      setTrouble(wordsOf(cause));
    }
  };
  useEffect(() => void load(), [on, keyOf]);

  const pick = (next: CareKind): void => {
    setKind(next === kind ? null : next);
    setNote('');
    setGrams('');
    setLast(null);
    setId(newId());
    sending.clear();
  };
  const keep = (line: CareLine, after: CareLine | null): void =>
    void sending.send(async () => {
      await keepCare(line);
      setKind(null);
      setLast(after);
      // It is kept already: the list need not be waited for.
      void load();
    });
  const done = (): void => {
    if (kind === null) return;
    const water = grams.trim() === '' ? null : Number(grams.trim().replace(',', '.'));
    if (water !== null && !Number.isFinite(water)) {
      sending.refuse({ waterGrams: ['A number is needed here, such as 40.'] });
      return;
    }
    if (kind === 'other' && note.trim() === '') {
      sending.refuse({ note: ['Say what was done.'] });
      return;
    }
    const at = new Date(serviceNow.value).toISOString();
    const line: CareLine = {
      id,
      on,
      key: keyOf,
      kind,
      waterGrams: kind === 'water' ? water : null,
      note: note.trim(),
      at,
    };
    keep(line, line);
  };
  const undo = (): void => {
    if (last === null) return;
    const at = serviceNow.value;
    keep(takenBack(last, newId(), new Date(at).toISOString(), clock(Date.parse(last.at), zone)), null);
  };
  return (
    <section class="part care" aria-label={`Care of this ${on}`}>
      <h2>What was done here</h2>
      <div class="care-kinds">
        {CARE_KINDS.map((k) => (
          <button key={k} type="button" class="care-kind" aria-expanded={k === kind} onClick={() => pick(k)}>
            {careWord(k)}
          </button>
        ))}
      </div>
      {kind !== null && (
        <form
          class="care-form"
          noValidate
          onSubmit={(event) => {
            event.preventDefault();
            done();
          }}
        >
          {kind === 'turn' && (
            <p class="hint">
              Say in the note which egg, and mark its top. Eggs are best left the way up they lie.
            </p>
          )}
          <button type="submit" class="main" disabled={sending.busy}>
            {sending.busy ? 'Keeping it…' : `${careWord(kind)}: done just now`}
          </button>
          {kind === 'water' && (
            <Field
              label="How much, if you weighed it"
              numeric
              unit="g"
              value={grams}
              onValue={setGrams}
              errors={sending.errors.waterGrams}
            />
          )}
          <NoteField
            label={kind === 'other' ? 'What' : 'A note'}
            value={note}
            onValue={setNote}
            errors={sending.errors.note}
          />
        </form>
      )}
      <p class={sending.words === null ? 'care-kept' : 'form-words'} role="status">
        {sending.words ??
          (last === null ? '' : `Kept: ${careWords(last)}, ${clock(Date.parse(last.at), zone)}.`)}
      </p>
      {last !== null && (
        <div class="presses">
          <button type="button" onClick={undo} disabled={sending.busy}>
            That was a slip
          </button>
        </div>
      )}
      {trouble === null ? (
        <CareList entries={entries} at={serviceNow.value} zone={zone} />
      ) : (
        <p class="form-words">{trouble}</p>
      )}
    </section>
  );
}
