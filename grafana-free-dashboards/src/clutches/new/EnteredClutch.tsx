import { Link } from '../../house/Link.tsx';
import { now } from '../../live/now.ts';
import type { Entered } from './shapes.ts';

/** It is entered: what the service remarks on it, and what comes next. */
export function EnteredClutch({ entered, onAnother }: { entered: Entered; onAnother: () => void }) {
  const address = `/clutches/${encodeURIComponent(entered.key)}`;
  // Whoever came here on the first night goes on with it; nobody is called yet.
  const firstNight = now.value !== null && !now.value.callOut.reachable;
  return (
    <main id="main" class="page narrow step-page">
      <h1>
        {entered.label} is entered: {entered.eggs.laid === 1 ? 'one egg' : `${entered.eggs.laid} eggs`}, day{' '}
        {entered.day}.
      </h1>
      <p class="next">
        {entered.watched
          ? `It is watched in ${entered.incubatorName}. Pencil a number on each shell, as they lie, before you close the lid.`
          : entered.incubator === null
            ? 'Nothing is watched yet: its tub stands in no incubator.'
            : `Nothing is watched yet: no probe is placed in ${entered.incubatorName}.`}
      </p>
      {(entered.said?.length ?? 0) > 0 && (
        <ul class="said">
          {entered.said?.map((words) => (
            <li key={words}>{words}</li>
          ))}
        </ul>
      )}
      <div class="presses">
        {firstNight && (
          <Link to="/first-night" class="button main">
            Go on: who is called
          </Link>
        )}
        <Link to={address} class={firstNight ? 'button' : 'button main'}>
          Lay out its eggs
        </Link>
        {!entered.watched && (
          <Link to={entered.incubator === null ? `${address}/move` : '/probes'} class="button">
            {entered.incubator === null ? 'Say where it stands' : 'Place a probe'}
          </Link>
        )}
        <button type="button" onClick={onAnother}>
          Enter another
        </button>
      </div>
    </main>
  );
}
