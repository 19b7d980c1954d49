import { Link } from '../house/Link.tsx';
import { visit } from './facts.ts';
import { NightFrame } from './NightFrame.tsx';

export function AskClutch({ incubator }: { incubator: string }) {
  return (
    <NightFrame
      step="clutch"
      question="Have eggs been laid already?"
      why={`A clutch tells when it will pip and what is to be done with it. ${incubator} is watched with or without one.`}
    >
      <div class="presses">
        <Link to="/clutches/new" class="button main">
          Enter the clutch
        </Link>
        <button
          type="button"
          class="late"
          onClick={() => (visit.value = { ...visit.value, clutchLater: true })}
        >
          Not yet
        </button>
      </div>
    </NightFrame>
  );
}
