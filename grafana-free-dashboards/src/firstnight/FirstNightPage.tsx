import '../look/steps.css';
import { useEffect, useState } from 'preact/hooks';
import { wordsOf } from '../http/api.ts';
import { now, refresh, serviceNow } from '../live/now.ts';
import { AskBand } from './AskBand.tsx';
import { AskCall } from './AskCall.tsx';
import { AskClutch } from './AskClutch.tsx';
import { AskIncubator } from './AskIncubator.tsx';
import { AskProbe } from './AskProbe.tsx';
import { AskTest } from './AskTest.tsx';
import { askNight, type NightState, visit } from './facts.ts';
import { NightDone } from './NightDone.tsx';
import { nightStep } from './steps.ts';

/** The first night: from an empty start to "watched over". Which question comes next is read from the facility. */
export function FirstNightPage() {
  const [state, setState] = useState<NightState | null>(null);
  const [trouble, setTrouble] = useState<string | null>(null);
  const shown = now.value;
  const load = async (): Promise<void> => {
    const latest = now.value;
    if (latest === null) return;
    try {
      setState(await askNight(latest));
      setTrouble(null);
    } catch (cause) {
      setTrouble(wordsOf(cause));
    }
  };
  useEffect(() => void load(), [shown?.at]);
  const again = async (): Promise<void> => {
    await refresh();
    await load();
  };

  if (state === null || shown === null) {
    return (
      <main id="main" class="page narrow">
        <h1>{trouble === null ? 'Looking how far it is…' : 'It cannot be seen how far it is.'}</h1>
        {trouble !== null && (
          <>
            <p class="next">{trouble}</p>
            <button type="button" class="main" onClick={() => void again()}>
              Try again
            </button>
          </>
        )}
      </main>
    );
  }
  const incubator = state.view;
  const step = nightStep(state.facts, visit.value);
  if (step === 'incubator' || incubator === null) return <AskIncubator onDone={again} />;
  switch (step) {
    case 'probe':
      return <AskProbe state={state} zone={shown.zone} at={serviceNow.value} onDone={again} />;
    case 'band':
      return <AskBand view={incubator} onDone={again} />;
    case 'clutch':
      return <AskClutch incubator={incubator.name} />;
    case 'call':
      return <AskCall onDone={again} />;
    case 'test':
      return <AskTest steps={state.steps} callOut={shown.callOut} onDone={again} />;
    case 'done':
      return <NightDone state={state} shown={shown} />;
  }
}
