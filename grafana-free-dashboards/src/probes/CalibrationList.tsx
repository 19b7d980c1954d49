import { useEffect, useState } from 'preact/hooks';
import { get, remove, wordsOf } from '../http/api.ts';
import type { Calibration } from '../http/probeShapes.ts';
import type { ProbeView } from '../http/shapes.ts';
import { refresh } from '../live/now.ts';
import { useSending } from '../look/useForm.ts';
import { dateWords } from '../words/localdate.ts';
import { quantityWord } from '../words/standing.ts';
import { moment } from '../words/times.ts';
import { amount } from '../words/units.ts';
import { unitIn } from './ProbeCard.tsx';
import { correctionWords } from './words.ts';

interface ListProps {
  probe: ProbeView;
  zone: string;
  at: number;
}

/** All that this probe was ever held against, newest first; what was superseded stays and says so. */
export function CalibrationList({ probe, zone, at }: ListProps) {
  const [list, setList] = useState<Calibration[] | null>(null);
  const [trouble, setTrouble] = useState<string | null>(null);
  const address = `/api/probes/${encodeURIComponent(probe.key)}/calibrations`;
  const load = async (): Promise<void> => {
    try {
      setList(await get<Calibration[]>(address));
      setTrouble(null);
    } catch (cause) {
      setTrouble(wordsOf(cause));
    }
  };
  useEffect(() => void load(), [address]);
  if (list === null) return <p class="muted">{trouble ?? 'Asking…'}</p>;
  if (list.length === 0) {
    return <p class="muted">Never yet: what it says is taken as it is.</p>;
  }
  return (
    <ul class="calibrations">
      {list.map((c) => (
        <li key={c.id} class={c.holds ? '' : 'past'}>
          <p>
            <strong>{moment(Date.parse(c.from), at, zone)}</strong>{' '}
            {!c.holds && <span class="muted">(holds no longer) </span>}
            {quantityWord(c.quantity)}, {c.method}:{' '}
            {correctionWords(c, c.quantity, unitIn(probe, c.quantity))}.
          </p>
          <p class="muted">
            {c.points
              .map(
                (p) =>
                  `It said ${amount(p.measured, c.quantity, unitIn(probe, c.quantity), 2)} at ${amount(p.truth, c.quantity, unitIn(probe, c.quantity), 2)}`,
              )
              .join('; ')}
            . {c.by}.{c.nextDue === null ? '' : ` Again ${dateWords(c.nextDue)}.`}
            {c.note === null || c.note === '' ? '' : ` “${c.note}”`}
          </p>
          {c.holds && <Undo address={`${address}/${encodeURIComponent(c.id)}`} onDone={load} />}
        </li>
      ))}
    </ul>
  );
}

function Undo({ address, onDone }: { address: string; onDone: () => Promise<void> }) {
  const [sure, setSure] = useState(false);
  const sending = useSending();
  return (
    <div class="seen">
      {sure ? (
        <button
          type="button"
          disabled={sending.busy}
          onClick={() =>
            void sending.send(async () => {
              await remove(address);
              await Promise.all([onDone(), refresh()]);
            })
          }
        >
          Yes, no longer correct by it. The entry is kept.
        </button>
      ) : (
        <button type="button" class="plain-link" onClick={() => setSure(true)}>
          It was wrong
        </button>
      )}
      <p class="form-words" role="alert">
        {sending.words}
      </p>
    </div>
  );
}
