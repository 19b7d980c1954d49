import type { ComponentChildren } from 'preact';
import { Link } from '../house/Link.tsx';
import { Step } from '../look/Step.tsx';
import { NIGHT_STEPS, type NightStep } from './steps.ts';

interface NightFrameProps {
  step: NightStep;
  question: string;
  why?: ComponentChildren;
  /** Another way on, beside leaving. */
  other?: ComponentChildren;
  children: ComponentChildren;
}

/** A step of the first night. The claim was the first, so the count begins at two. */
export function NightFrame({ step, question, why, other, children }: NightFrameProps) {
  return (
    <Step
      number={NIGHT_STEPS.indexOf(step) + 2}
      of={NIGHT_STEPS.length}
      question={question}
      why={why}
      foot={
        <>
          {other}
          <Link to="/">Leave it here, go on later</Link>
        </>
      }
    >
      {children}
    </Step>
  );
}
