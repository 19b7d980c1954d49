import { useState } from 'preact/hooks';
import { post, put } from '../http/api.ts';
import type { ClutchPageView } from '../http/clutchShapes.ts';
import { refresh } from '../live/now.ts';
import { Field } from '../look/Field.tsx';
import { useSending } from '../look/useForm.ts';
import { amount } from '../words/units.ts';
import { dateWords } from './words.ts';

/** What was entered of the clutch as a whole; a slip can be put right, and a clutch that is done is called finished. */
export function ClutchDetails({ page, onSaved }: { page: ClutchPageView; onSaved: () => Promise<void> }) {
  const { clutch } = page;
  const [texts, setTexts] = useState({
    label: clutch.label,
    dam: clutch.dam,
    sire: clutch.sire ?? '',
    layDate: clutch.layDate,
    layDateSlackDays: String(page.layDateSlackDays),
    note: page.note ?? '',
  });
  const [sure, setSure] = useState(false);
  const sending = useSending();
  const path = `/api/clutches/${encodeURIComponent(clutch.key)}`;
  const field = (name: keyof typeof texts, label: string, hint?: string) => (
    <Field
      label={label}
      value={texts[name]}
      onValue={(value) => setTexts({ ...texts, [name]: value })}
      errors={sending.errors[name]}
      {...(hint === undefined ? {} : { hint })}
    />
  );
  const facts = [
    `${clutch.speciesName}; ${clutch.dam}${clutch.sire === null ? ', no sire known' : ` × ${clutch.sire}`}.`,
    `Laid on ${dateWords(clutch.layDate)} ${clutch.layDate.slice(0, 4)}${page.layDateSlackDays > 0 ? `, give or take ${page.layDateSlackDays} days` : ''}.`,
    page.femaleCelsius === null
      ? null
      : `The female had ${amount(page.femaleCelsius, 'temperature', 'Cel')}.`,
    page.assumedCelsius === null
      ? null
      : `Before the first reading it is taken to have had ${amount(page.assumedCelsius, 'temperature', 'Cel')}.`,
    page.secondPerson === null ? null : `${page.secondPerson} was there when the eggs were pulled.`,
    page.note,
  ].filter((w) => w !== null && w !== '');
  return (
    <section class="part" aria-labelledby="details">
      <h2 id="details">The clutch</h2>
      <p>{facts.join(' ')}</p>
      <details>
        <summary>Put something right, or finish it</summary>
        <form
          onSubmit={(event) => {
            event.preventDefault();
            const slack = Number(texts.layDateSlackDays);
            if (!Number.isInteger(slack)) {
              return sending.refuse({ layDateSlackDays: ['A whole number of days is needed here.'] });
            }
            void sending.send(async () => {
              // What is left out stays as it is.
              await put(path, {
                label: texts.label.trim(),
                dam: texts.dam.trim(),
                sire: texts.sire.trim() === '' ? null : texts.sire.trim(),
                layDate: texts.layDate.trim(),
                layDateSlackDays: slack,
                note: texts.note.trim() === '' ? null : texts.note.trim(),
              });
              await Promise.all([onSaved(), refresh()]);
            });
          }}
        >
          {field('label', 'What it is called')}
          {field('dam', 'Dam')}
          {field('sire', 'Sire', 'Empty when there was none, or nobody knows.')}
          {field('layDate', 'Lay date', 'Year-month-day, such as 2026-03-04.')}
          {field('layDateSlackDays', 'How many days it may be off')}
          {field('note', 'Note')}
          <p class="form-words" role="alert">
            {sending.words}
          </p>
          <div class="presses">
            <button type="submit" class="main" disabled={sending.busy}>
              Save
            </button>
            {clutch.state !== 'finished' &&
              (sure ? (
                <button
                  type="button"
                  class="quiet"
                  disabled={sending.busy}
                  onClick={() =>
                    void sending.send(async () => {
                      await post(`${path}/finish`);
                      await Promise.all([onSaved(), refresh()]);
                    })
                  }
                >
                  Yes, {clutch.label} is finished. Its past is kept.
                </button>
              ) : (
                <button type="button" class="quiet" onClick={() => setSure(true)}>
                  It is finished
                </button>
              ))}
          </div>
        </form>
      </details>
    </section>
  );
}
