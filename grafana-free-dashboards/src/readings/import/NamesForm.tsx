import { useState } from 'preact/hooks';
import { put } from '../../http/api.ts';
import { useSending } from '../../look/useForm.ts';
import { countWords } from '../keeping/words.ts';
import { ProbeChoice } from './ProbeChoice.tsx';
import { unknownNames, withProbe } from './plan.ts';
import type { ImportView, NamedProbe } from './shapes.ts';

interface NamesFormProps {
  view: ImportView;
  known: readonly { key: string; name: string | null }[];
  onView: (view: ImportView) => void;
}

const AT_ONCE = 30;

/** Names in the file that stand for no probe yet. */
export function NamesForm({ view, known, onView }: NamesFormProps) {
  const [told, setTold] = useState<NamedProbe[]>([]);
  const sending = useSending();
  const names = unknownNames(view);
  return (
    <form
      class="import-form"
      onSubmit={(event) => {
        event.preventDefault();
        const plan = told.reduce((all, probe) => withProbe(all, probe.name, probe.key), view.guess);
        void sending.send(async () => onView(await put<ImportView>(`/api/imports/${view.id}/columns`, plan)));
      }}
    >
      <h2>Which probes are these?</h2>
      <p>The file names probes that nobody knows here. Say which they are; what is left open is refused.</p>
      <ul class="import-columns">
        {names.slice(0, AT_ONCE).map(({ name, count }) => (
          <li key={name} class="import-column">
            <h3>{name}</h3>
            <p class="import-cells">{countWords(count)} lines</p>
            <ProbeChoice
              label="It is"
              value={told.find((probe) => probe.name === name)?.key ?? null}
              known={known}
              canLeaveOut
              onValue={(key) =>
                setTold([
                  ...told.filter((one) => one.name !== name),
                  ...(key === null ? [] : [{ name, key }]),
                ])
              }
            />
          </li>
        ))}
      </ul>
      {names.length > AT_ONCE && <p>And {countWords(names.length - AT_ONCE)} more, after these.</p>}
      <p class="form-words" role="status">
        {sending.words}
      </p>
      <button type="submit" class="main" disabled={sending.busy || told.length === 0}>
        Keep these names
      </button>
    </form>
  );
}
