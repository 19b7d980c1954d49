import { useState } from 'preact/hooks';
import { go } from '../house/route.ts';
import { put, remove } from '../http/api.ts';
import type { IncubatorView } from '../http/shapes.ts';
import { refresh } from '../live/now.ts';
import { Field } from '../look/Field.tsx';
import { useSending } from '../look/useForm.ts';

export function NameAndPlace({ view }: { view: IncubatorView }) {
  const [name, setName] = useState(view.name);
  const [position, setPosition] = useState(String(view.position));
  const [sure, setSure] = useState(false);
  const sending = useSending();
  const address = `/api/incubators/${encodeURIComponent(view.key)}`;
  return (
    <details class="part">
      <summary>Its name and place in the room</summary>
      <form
        onSubmit={(event) => {
          event.preventDefault();
          const place = Number(position);
          if (!Number.isInteger(place))
            return sending.refuse({ position: ['A whole number is needed here.'] });
          void sending.send(async () => {
            await put(address, { name: name.trim(), position: place });
            await refresh();
          });
        }}
      >
        <Field label="Its name" value={name} onValue={setName} errors={sending.errors.name} required />
        <Field
          label="Its place in the row, from the left"
          numeric
          value={position}
          onValue={setPosition}
          errors={sending.errors.position}
          required
        />
        <div class="presses">
          <button type="submit" class="main" disabled={sending.busy}>
            Save
          </button>
          {sure ? (
            <button
              type="button"
              class="quiet"
              disabled={sending.busy}
              onClick={() =>
                void sending.send(async () => {
                  await remove(address);
                  await refresh();
                  go('/');
                })
              }
            >
              Yes, take {view.name} out of use. Its past is kept.
            </button>
          ) : (
            <button type="button" class="quiet" onClick={() => setSure(true)}>
              Take it out of use
            </button>
          )}
        </div>
        <p class="form-words" role="alert">
          {sending.words}
        </p>
      </form>
    </details>
  );
}
