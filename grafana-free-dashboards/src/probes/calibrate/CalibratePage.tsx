import '../../look/steps.css';
import '../probe.css';
import { useEffect, useState } from 'preact/hooks';
import { Link } from '../../house/Link.tsx';
import { get, wordsOf } from '../../http/api.ts';
import type { CalibrationPoints } from '../../http/probeShapes.ts';
import { OneOf } from '../../look/OneOf.tsx';
import { Step } from '../../look/Step.tsx';
import { quantityWord } from '../../words/standing.ts';
import { isOwn } from '../rank.ts';
import { useProbes } from '../useProbes.ts';
import { CheckStep } from './CheckStep.tsx';
import { type Draft, type Method, methodsFor, newDraft } from './draft.ts';
import { ReadStep } from './ReadStep.tsx';
import { SetUpStep } from './SetUpStep.tsx';

type At = 'method' | 'set up' | 'read' | 'check';
const ORDER: At[] = ['method', 'set up', 'read', 'check'];

/** A probe is held against something known, one question at a time; nothing is kept before the last. */
export function CalibratePage({ probe: key }: { probe: string }) {
  const { probes, trouble } = useProbes();
  const [points, setPoints] = useState<CalibrationPoints | null>(null);
  const [failed, setFailed] = useState<string | null>(null);
  const [draft, setDraft] = useState<Draft>(newDraft(''));
  const [at, setAt] = useState<At>('method');
  useEffect(() => {
    get<CalibrationPoints>('/api/calibration-points').then(setPoints, (cause) => setFailed(wordsOf(cause)));
  }, []);

  const probe = [...(probes?.placed ?? []), ...(probes?.notPlaced ?? [])].find((p) => p.key === key);
  if (probe === undefined || points === null) {
    const words =
      failed ?? trouble ?? (probes === null || points === null ? null : `No probe ${key} was heard.`);
    return (
      <main id="main" class="page">
        <h1>{words ?? 'One moment…'}</h1>
        <Link to={`/probes/${encodeURIComponent(key)}`}>Back to the probe</Link>
      </main>
    );
  }
  const name = probe.name ?? probe.key;
  const quantities = probe.series.filter((s) => !isOwn(s) && s.quantity !== 'door').map((s) => s.quantity);
  const quantity = draft.quantity === '' ? (quantities[0] ?? 'temperature') : draft.quantity;
  const d = { ...draft, quantity };
  const change = (part: Partial<Draft>): void => setDraft({ ...d, ...part });
  const step = ORDER.indexOf(at);
  const frame = { number: step + 1, of: ORDER.length };
  const foot = (
    <>
      {step > 0 && (
        <button type="button" onClick={() => setAt(ORDER[step - 1] ?? 'method')}>
          Back
        </button>
      )}
      <Link to={`/probes/${encodeURIComponent(key)}`}>Leave it as it is</Link>
    </>
  );
  const parts = { draft: d, change, probe, points, frame, foot };
  switch (at) {
    case 'method':
      return (
        <Step
          {...frame}
          question={`What is ${name} held against?`}
          why="A probe is seldom right to the tenth. Something known says by how much it is off, and every reading is corrected by that."
          foot={foot}
        >
          <form
            onSubmit={(event) => {
              event.preventDefault();
              if (d.method !== '') setAt('set up');
            }}
          >
            {quantities.length > 1 && (
              <OneOf
                label="Which of its quantities"
                value={quantity}
                options={quantities.map((q) => ({ value: q, word: quantityWord(q) }))}
                onValue={(q) => change({ quantity: q, method: '' })}
              />
            )}
            <OneOf<Method>
              label="Against what"
              value={d.method}
              options={methodsFor(quantity)}
              onValue={(method) => change({ method })}
            />
            <button type="submit" class="main" disabled={d.method === ''}>
              Go on
            </button>
          </form>
        </Step>
      );
    case 'set up':
      return <SetUpStep {...parts} onDone={() => setAt('read')} />;
    case 'read':
      return <ReadStep {...parts} onDone={() => setAt('check')} />;
    case 'check':
      return <CheckStep {...parts} />;
  }
}
