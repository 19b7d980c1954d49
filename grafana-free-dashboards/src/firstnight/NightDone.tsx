import { useEffect, useRef } from 'preact/hooks';
import { incubatorSentence } from '../facility/sentence.ts';
import { Link } from '../house/Link.tsx';
import type { Now } from '../http/shapes.ts';
import { type NightState, visit } from './facts.ts';
import { nightIncubator, stillMissing } from './steps.ts';

/** "Watched over", with what is so, and with what is still missing said plainly. */
export function NightDone({ state, shown }: { state: NightState; shown: Now }) {
  const { facts } = state;
  const incubator = nightIncubator(facts);
  const standing = shown.incubators.find((i) => i.key === incubator?.key);
  const missing = stillMissing(facts, visit.value);
  const called = facts.callSteps > 0 && facts.reachable;
  const head = useRef<HTMLHeadingElement>(null);
  useEffect(() => head.current?.focus({ preventScroll: true }), []);
  return (
    <main id="main" class="page narrow step-page">
      <h1 tabIndex={-1} ref={head}>
        {called
          ? `${incubator?.name} is watched over.`
          : `${incubator?.name} is watched, but nobody is called.`}
      </h1>
      <p class="next">
        {called
          ? `When it leaves its band, or falls silent, ${state.steps[0]?.who ?? 'somebody'} is called.`
          : 'What goes wrong would be seen on this page only.'}
      </p>
      <ul class="done-list">
        {standing !== undefined && <Done>{incubatorSentence(standing)}</Done>}
        {facts.clutches > 0 && (
          <Done>
            {facts.clutches === 1 ? 'One clutch is entered.' : `${facts.clutches} clutches are entered.`}
          </Done>
        )}
        {called && <Done>{shown.callOut.words}</Done>}
        {called && (facts.testAnswered === true || visit.value.testHeard) && (
          <Done>The test call was heard.</Done>
        )}
      </ul>
      <Link to="/" class="button main">
        To the room
      </Link>
      {incubator !== undefined && (
        <p>
          No eggs in it yet?{' '}
          <Link to={`/incubators/${encodeURIComponent(incubator.key)}/run-in`}>
            Try {incubator.name} out for two days first.
          </Link>
        </p>
      )}
      {missing.length > 0 && (
        <section class="part" aria-labelledby="missing">
          <h2 id="missing">Still missing</h2>
          <ul class="done-list">
            {missing.map((m) => (
              <li key={m.words} class="missing">
                <span class="mark" aria-hidden="true">
                  –
                </span>
                <div class="missing-words">
                  <p>{m.words}</p>
                  <Link to={m.href} class="plain-link">
                    {m.press}
                  </Link>
                </div>
              </li>
            ))}
          </ul>
        </section>
      )}
      <p class="hint">
        This informs; it is no safety device. A mains heater needs its own cut-out against overheating, apart
        from its thermostat, and a residual-current device, both installed to local code.
      </p>
    </main>
  );
}

function Done({ children }: { children: preact.ComponentChildren }) {
  return (
    <li>
      <span class="mark" aria-hidden="true">
        ✓
      </span>
      <span>{children}</span>
    </li>
  );
}
