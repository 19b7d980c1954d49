import './clutches.css';
import { useEffect, useState } from 'preact/hooks';
import { Link } from '../house/Link.tsx';
import { get, wordsOf } from '../http/api.ts';
import type { ClutchLine } from '../http/clutchShapes.ts';
import { now } from '../live/now.ts';
import { ClutchItem } from './ClutchItem.tsx';
import { listSentence } from './words.ts';

const EVERY_MS = 60_000;

export function ClutchesPage() {
  const [lines, setLines] = useState<ClutchLine[] | null>(null);
  const [trouble, setTrouble] = useState<string | null>(null);
  const load = (): void => {
    get<ClutchLine[]>('/api/clutches?state=all').then(
      (answer) => {
        setLines(answer);
        setTrouble(null);
      },
      (cause) => setTrouble(wordsOf(cause)),
    );
  };
  const facility = now.value?.incubators.length;
  useEffect(load, [facility]);
  useEffect(() => {
    const timer = setInterval(load, EVERY_MS);
    return () => clearInterval(timer);
  }, []);

  if (lines === null) {
    return (
      <main id="main" class="page">
        <h1>{trouble ?? 'Asking for the clutches…'}</h1>
        {trouble !== null && (
          <button type="button" class="quiet" onClick={load}>
            Try again
          </button>
        )}
      </main>
    );
  }
  return <ClutchesOf lines={lines} trouble={trouble} />;
}

export function ClutchesOf({ lines, trouble }: { lines: readonly ClutchLine[]; trouble: string | null }) {
  const { sentence, next } = listSentence(lines);
  const going = lines.filter((l) => l.state !== 'finished').sort(nearestPip);
  const over = lines.filter((l) => l.state === 'finished').sort((a, b) => b.layDate.localeCompare(a.layDate));
  return (
    <main id="main" class="page">
      <h1>{sentence}</h1>
      <p class="next">{next}</p>
      {trouble !== null && <p class="muted">As last heard. {trouble}</p>}
      <div class="presses">
        <Link to="/clutches/new" class={`button ${going.length === 0 ? 'main' : 'quiet'}`}>
          {lines.length === 0 ? 'Enter the first clutch' : 'Enter a clutch'}
        </Link>
      </div>
      {going.length > 0 && (
        <section class="clutch-list" aria-labelledby="incubating">
          <h2 id="incubating">Incubating, the next to pip first</h2>
          <ul>
            {going.map((line) => (
              <ClutchItem key={line.key} line={line} />
            ))}
          </ul>
        </section>
      )}
      {over.length > 0 && (
        <section class="clutch-list over" aria-labelledby="finished">
          <h2 id="finished">Finished</h2>
          <ul>
            {over.map((line) => (
              <ClutchItem key={line.key} line={line} />
            ))}
          </ul>
        </section>
      )}
    </main>
  );
}

function nearestPip(a: ClutchLine, b: ClutchLine): number {
  const hatching = Number(b.state === 'hatching') - Number(a.state === 'hatching');
  return hatching || (a.pip?.likely ?? '9999').localeCompare(b.pip?.likely ?? '9999') || b.day - a.day;
}
