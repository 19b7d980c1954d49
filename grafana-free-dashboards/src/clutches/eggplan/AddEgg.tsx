import { useState } from 'preact/hooks';
import { post } from '../../http/api.ts';
import type { EggView } from '../../http/clutchShapes.ts';
import { Field } from '../../look/Field.tsx';
import { useSending } from '../../look/useForm.ts';

/** The first number that no egg has. */
export function freeNumber(eggs: readonly { number: number }[]): number {
  const taken = new Set(eggs.map((e) => e.number));
  let number = 1;
  while (taken.has(number)) number++;
  return number;
}

/** An egg that was found later, or was counted wrong. */
export function AddEgg({
  clutch,
  eggs,
  onSaved,
}: {
  clutch: string;
  eggs: readonly EggView[];
  onSaved: () => Promise<void>;
}) {
  const [number, setNumber] = useState<string | null>(null);
  const sending = useSending();
  if (number === null) {
    return (
      <button type="button" class="quiet" onClick={() => setNumber(String(freeNumber(eggs)))}>
        Add an egg
      </button>
    );
  }
  return (
    <form
      class="add-egg"
      onSubmit={(event) => {
        event.preventDefault();
        const value = Number(number);
        if (!Number.isInteger(value) || value < 1)
          return sending.refuse({ number: ['A whole number, as pencilled on the shell.'] });
        void sending.send(async () => {
          await post(`/api/clutches/${encodeURIComponent(clutch)}/eggs`, { number: value, x: 0.5, y: 0.92 });
          await onSaved();
          setNumber(null);
        });
      }}
    >
      <Field
        label="The number on its shell"
        numeric
        value={number}
        onValue={setNumber}
        errors={sending.errors.number}
      />
      <p class="form-words" role="alert">
        {sending.errors.number === undefined ? sending.words : null}
      </p>
      <div class="presses">
        <button type="submit" class="main" disabled={sending.busy}>
          Add it
        </button>
        <button type="button" class="quiet" onClick={() => setNumber(null)}>
          Leave it
        </button>
      </div>
    </form>
  );
}
