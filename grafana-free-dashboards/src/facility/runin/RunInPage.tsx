import '../../look/steps.css';
import './runin.css';
import { useEffect, useState } from 'preact/hooks';
import { Link } from '../../house/Link.tsx';
import { get, post, remove, wordsOf } from '../../http/api.ts';
import type { RunIn } from '../../http/probeShapes.ts';
import { now, serviceNow } from '../../live/now.ts';
import { Shape } from '../../look/Shape.tsx';
import { useSending } from '../../look/useForm.ts';
import { dayAndClock, moment } from '../../words/times.ts';
import { bound } from '../../words/units.ts';
import { RunInResult } from './RunInResult.tsx';

const AGAIN_MS = 30_000;

/** An incubator is watched for two days before eggs go in: is it steady, and is it as warm above as below? */
export function RunInPage({ incubator: key }: { incubator: string }) {
  const [runs, setRuns] = useState<RunIn[] | null>(null);
  const [trouble, setTrouble] = useState<string | null>(null);
  const address = `/api/incubators/${encodeURIComponent(key)}/run-ins`;
  const load = async (): Promise<void> => {
    try {
      setRuns(await get<RunIn[]>(address));
      setTrouble(null);
    } catch (cause) {
      setTrouble(wordsOf(cause));
    }
  };
  useEffect(() => {
    void load();
    const timer = setInterval(() => {
      if (document.visibilityState !== 'hidden') void load();
    }, AGAIN_MS);
    return () => clearInterval(timer);
  }, [address]);

  const standing = now.value?.incubators.find((i) => i.key === key);
  const name = standing?.name ?? key;
  const zone = now.value?.zone ?? 'UTC';
  const at = serviceNow.value;
  const [latest, ...earlier] = runs ?? [];
  return (
    <main id="main" class="page">
      <p class="back">
        <Link to={`/incubators/${encodeURIComponent(key)}`} class="back-link">
          ← {name}
        </Link>
      </p>
      {runs === null ? (
        <h1>{trouble ?? 'One moment…'}</h1>
      ) : latest === undefined ? (
        <>
          <h1>{name} has not been tried out yet.</h1>
          <p class="next">
            For 48 hours it runs as it will with eggs: tubs with damp substrate in, door shut, a probe on each
            shelf. Then you are told how steady it is, and where it is too warm or too cool.
          </p>
          <Start address={address} word="Begin the run-in" onDone={load} />
        </>
      ) : (
        <>
          <header class="headline">
            <p class="tone">
              <Shape
                tone={
                  latest.verdict === 'ready' ? 'calm' : latest.verdict === 'not ready' ? 'warning' : 'unknown'
                }
                large
              />
              <span>{VERDICT[latest.verdict] ?? latest.verdict}</span>
            </p>
            <h1>{bound(latest.words)}</h1>
            <p class="next">{sinceWords(latest, zone)}</p>
          </header>
          <Progress run={latest} />
          {trouble !== null && <p class="form-words">{trouble}</p>}
          <RunInResult run={latest} />
          {latest.state === 'running' ? (
            <Stop address={address} onDone={load} />
          ) : (
            <Start address={address} word="Try it out again" onDone={load} />
          )}
          {earlier.length > 0 && (
            <section class="part" aria-labelledby="earlier">
              <h2 id="earlier">Earlier</h2>
              <ul class="earlier-runs">
                {earlier.map((r) => (
                  <li key={r.id}>
                    <span class="muted">{moment(Date.parse(r.from), at, zone)}</span> {r.words}
                  </li>
                ))}
              </ul>
            </section>
          )}
        </>
      )}
    </main>
  );
}

const VERDICT: Record<RunIn['verdict'], string> = {
  ready: 'Ready for eggs',
  'not ready': 'Not ready',
  'too early': 'Too early to say',
};

function sinceWords(run: RunIn, zone: string): string {
  const from = dayAndClock(Date.parse(run.from), zone);
  const hours = Math.floor(run.hours);
  if (run.state === 'running') return `Since ${from}; ${hours} of ${run.ofHours} hours. Keep the door shut.`;
  const until = run.until === null ? '' : ` to ${dayAndClock(Date.parse(run.until), zone)}`;
  return run.state === 'ended'
    ? `From ${from}${until}, ended before its time after ${hours} hours.`
    : `From ${from}${until}.`;
}

function Progress({ run }: { run: RunIn }) {
  return (
    <progress
      class="run-in-progress"
      max={run.ofHours}
      value={Math.min(run.ofHours, run.hours)}
      aria-label="Hours judged"
    >
      {Math.floor(run.hours)} of {run.ofHours} hours
    </progress>
  );
}

function Start({ address, word, onDone }: { address: string; word: string; onDone: () => Promise<void> }) {
  const sending = useSending();
  return (
    <div class="seen">
      <button
        type="button"
        class="main"
        disabled={sending.busy}
        onClick={() =>
          void sending.send(async () => {
            await post(address, {});
            await onDone();
          })
        }
      >
        {word}
      </button>
      <p class="form-words" role="alert">
        {sending.words}
      </p>
    </div>
  );
}

function Stop({ address, onDone }: { address: string; onDone: () => Promise<void> }) {
  const [sure, setSure] = useState(false);
  const sending = useSending();
  return (
    <div class="seen">
      <button
        type="button"
        disabled={sending.busy}
        onClick={() => {
          if (!sure) return setSure(true);
          void sending.send(async () => {
            await remove(`${address}/current`);
            await onDone();
          });
        }}
      >
        {sure ? 'Yes, end it before its time' : 'End the run-in'}
      </button>
      <p class="form-words" role="alert">
        {sending.words}
      </p>
    </div>
  );
}
