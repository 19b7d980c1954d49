import '../../look/steps.css';
import './import.css';
import { useEffect, useState } from 'preact/hooks';
import { Link } from '../../house/Link.tsx';
import { go } from '../../house/route.ts';
import { get, post, remove, wordsOf } from '../../http/api.ts';
import type { Probes } from '../../http/shapes.ts';
import { now, serviceNow } from '../../live/now.ts';
import { useSending } from '../../look/useForm.ts';
import { moment } from '../../words/times.ts';
import { bytesWords } from '../keeping/words.ts';
import { ColumnsForm } from './ColumnsForm.tsx';
import { NamesForm } from './NamesForm.tsx';
import { OutcomePart } from './OutcomePart.tsx';
import { unknownNames } from './plan.ts';
import type { ImportView } from './shapes.ts';
import { importSentence, paceWords, percent } from './words.ts';

const AGAIN_MS = 1_000;

/** One file: looked over, tried out, brought in, stopped and gone on with. */
export function ImportPage({ id }: { id: string }) {
  const [view, setView] = useState<ImportView | null>(null);
  const [trouble, setTrouble] = useState<string | null>(null);
  const [changing, setChanging] = useState(false);
  const [known, setKnown] = useState<{ key: string; name: string | null }[]>([]);
  const address = `/api/imports/${encodeURIComponent(id)}`;
  const load = async (): Promise<void> => {
    try {
      setView(await get<ImportView>(address));
      setTrouble(null);
    } catch (cause) {
      setTrouble(wordsOf(cause));
    }
  };
  const running = view?.running ?? null;
  useEffect(() => void load(), [address]);
  useEffect(() => {
    get<Probes>('/api/probes').then(
      (found) => setKnown([...found.placed, ...found.notPlaced]),
      () => undefined,
    );
  }, []);
  useEffect(() => {
    if (running === null) return;
    const timer = setInterval(() => void load(), AGAIN_MS);
    return () => clearInterval(timer);
  }, [running, address]);

  const become = (next: ImportView): void => {
    setView(next);
    setChanging(false);
  };
  return (
    <main id="main" class="page narrow">
      <p class="back">
        <Link to="/readings/import" class="back-link">
          ← Files of readings
        </Link>
      </p>
      {view === null ? (
        <h1>{trouble ?? 'One moment…'}</h1>
      ) : (
        <>
          <h1>{importSentence(view)}</h1>
          <p class="next">
            {view.fileName}, {bytesWords(view.bytes)}
            {view.sameAs !== null &&
              `. The same file was brought in ${moment(Date.parse(view.sameAs), serviceNow.value, now.value?.zone ?? 'UTC')}; again it changes nothing.`}
          </p>
          {trouble !== null && <p class="form-words">{trouble}</p>}
          {view.running !== null && <Progress view={view} />}
          {view.running === null &&
          view.fileIsHere &&
          view.state !== 'done' &&
          (!view.confirmed || changing) ? (
            <ColumnsForm key={String(view.confirmed)} view={view} known={known} onView={become} />
          ) : (
            <Found view={view} known={known} address={address} onView={become} />
          )}
          <Presses
            view={view}
            address={address}
            changing={changing}
            onChange={() => setChanging(!changing)}
            onView={become}
          />
        </>
      )}
    </main>
  );
}

function Progress({ view }: { view: ImportView }) {
  return (
    <div class="import-progress">
      <progress max={100} value={percent(view)} aria-label="How much of the file is done" />
      <p>{paceWords(view)}</p>
    </div>
  );
}

interface FoundProps {
  view: ImportView;
  known: readonly { key: string; name: string | null }[];
  address: string;
  onView: (view: ImportView) => void;
}

function Found({ view, known, address, onView }: FoundProps) {
  const asks = view.running === null && view.state === 'waiting' && unknownNames(view).length > 0;
  return (
    <>
      {asks && <NamesForm view={view} known={known} onView={onView} />}
      {view.run !== null && (
        <OutcomePart title="Brought in" outcome={view.run} report={`${address}/report?of=run`} />
      )}
      {view.run === null && view.dryRun !== null && (
        <OutcomePart
          title="The trial; nothing is stored yet"
          outcome={view.dryRun}
          report={`${address}/report?of=dry-run`}
        />
      )}
    </>
  );
}

interface PressesProps {
  view: ImportView;
  address: string;
  changing: boolean;
  onChange: () => void;
  onView: (view: ImportView) => void;
}

function Presses({ view, address, changing, onChange, onView }: PressesProps) {
  const sending = useSending();
  const doIt = (what: string): void =>
    void sending.send(async () => onView(await post<ImportView>(`${address}/${what}`)));
  const ready = view.fileIsHere && view.confirmed && view.running === null && view.state !== 'done';
  const begun = view.run !== null;
  const tried = view.dryRun?.state === 'done';
  return (
    <>
      <p class="form-words" role="status">
        {sending.words}
      </p>
      <div class="presses">
        {view.running !== null && (
          <button type="button" class="main" disabled={sending.busy} onClick={() => doIt('stops')}>
            Stop
          </button>
        )}
        {ready && !changing && (begun || (tried && (view.dryRun?.taken ?? 0) > 0)) && (
          <button type="button" class="main" disabled={sending.busy} onClick={() => doIt('runs')}>
            {begun ? 'Go on' : 'Bring them in'}
          </button>
        )}
        {ready && !changing && !begun && (
          <button
            type="button"
            class={tried ? '' : 'main'}
            disabled={sending.busy}
            onClick={() => doIt('dry-runs')}
          >
            {tried ? 'Try it out again' : 'Try it out'}
          </button>
        )}
        {ready && !begun && (
          <button type="button" class="quiet" onClick={onChange}>
            {changing ? 'Leave the columns as they are' : 'Change the columns'}
          </button>
        )}
        {view.running === null && view.fileIsHere && (
          <button
            type="button"
            class="quiet"
            disabled={sending.busy}
            onClick={() =>
              void sending.send(async () => {
                await remove(address);
                go('/readings/import');
              })
            }
          >
            Delete the file here
          </button>
        )}
      </div>
    </>
  );
}
