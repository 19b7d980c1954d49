import { useState } from 'preact/hooks';
import { get, post } from '../http/api.ts';
import type { ClutchPageView, TubView } from '../http/clutchShapes.ts';
import { now, refresh } from '../live/now.ts';
import { useSending } from '../look/useForm.ts';
import { dayAndClock } from '../words/times.ts';

/** Where the clutch lay, and moving it: to another tub, or with its tub to another incubator. */
export function PlacesPart({
  page,
  zone,
  onSaved,
}: {
  page: ClutchPageView;
  zone: string;
  onSaved: () => Promise<void>;
}) {
  const places = page.placements.toSorted((a, b) => b.from.localeCompare(a.from));
  const here = places.find((p) => p.until === null);
  return (
    <section class="part" aria-labelledby="places">
      <h2 id="places">Where it lay</h2>
      {places.length === 0 && (
        <p>It lies in no tub yet, so nothing is known of its temperature. Put it into one below.</p>
      )}
      <ul class="places">
        {places.map((p) => (
          <li key={`${p.from} ${p.tub}`}>
            <strong>
              {[p.tubName, p.incubatorName ?? 'in no incubator', p.shelf].filter(Boolean).join(', ')}
            </strong>{' '}
            <span class="muted">
              {p.until === null ? 'since' : 'from'} {dayAndClock(Date.parse(p.from), zone)}
              {p.until !== null && ` to ${dayAndClock(Date.parse(p.until), zone)}`}
            </span>
          </li>
        ))}
      </ul>
      {/* The care log's two taps (CareButtons, on the tub) stand here. */}
      {page.clutch.state !== 'finished' && <Move page={page} tub={here?.tub ?? null} onSaved={onSaved} />}
    </section>
  );
}

function Move({
  page,
  tub,
  onSaved,
}: {
  page: ClutchPageView;
  tub: string | null;
  onSaved: () => Promise<void>;
}) {
  const [tubs, setTubs] = useState<TubView[] | null>(null);
  const [incubator, setIncubator] = useState('');
  const [shelf, setShelf] = useState('');
  const [other, setOther] = useState('');
  const sending = useSending();
  const open = (): void => {
    if (tubs === null) void sending.send(async () => setTubs(await get<TubView[]>('/api/tubs')));
  };
  const done = async (): Promise<void> => {
    await Promise.all([onSaved(), refresh()]);
    setIncubator('');
    setShelf('');
    setOther('');
  };
  const incubators = now.value?.incubators ?? [];
  return (
    <details onToggle={(event) => event.currentTarget.open && open()}>
      <summary>{tub === null ? 'Put it into a tub' : 'It was moved'}</summary>
      {tub !== null && (
        <form
          onSubmit={(event) => {
            event.preventDefault();
            if (incubator === '')
              return sending.refuse({ incubator: ['Choose the incubator it stands in now.'] });
            void sending.send(async () => {
              const to = { incubator, ...(shelf.trim() === '' ? {} : { shelf: shelf.trim() }) };
              await post(`/api/tubs/${encodeURIComponent(tub)}/placements`, to);
              await done();
            });
          }}
        >
          <label class="field">
            <span class="label">Its tub stands now in</span>
            <select value={incubator} onChange={(event) => setIncubator(event.currentTarget.value)}>
              <option value="">choose…</option>
              {incubators.map((i) => (
                <option key={i.key} value={i.key}>
                  {i.name}
                </option>
              ))}
            </select>
          </label>
          <label class="field">
            <span class="label">Shelf, if you like</span>
            <input value={shelf} onInput={(event) => setShelf(event.currentTarget.value)} />
          </label>
          <button type="submit" class="quiet" disabled={sending.busy}>
            The tub was moved just now
          </button>
        </form>
      )}
      {tubs !== null && (
        <form
          onSubmit={(event) => {
            event.preventDefault();
            if (other === '') return sending.refuse({ tub: ['Choose the tub the eggs lie in now.'] });
            void sending.send(async () => {
              await post(`/api/clutches/${encodeURIComponent(page.clutch.key)}/placements`, { tub: other });
              await done();
            });
          }}
        >
          <label class="field">
            <span class="label">The eggs lie now in the tub</span>
            <select value={other} onChange={(event) => setOther(event.currentTarget.value)}>
              <option value="">choose…</option>
              {tubs
                .filter((t) => t.key !== tub)
                .map((t) => (
                  <option key={t.key} value={t.key}>
                    {t.name}
                    {t.incubatorName === null ? '' : `, ${t.incubatorName}`}
                  </option>
                ))}
            </select>
          </label>
          <button type="submit" class="quiet" disabled={sending.busy}>
            The eggs were moved just now
          </button>
        </form>
      )}
      <p class="form-words" role="alert">
        {sending.words}
        {Object.values(sending.errors)
          .flat()
          .map((w) => ` ${w}`)}
      </p>
    </details>
  );
}
