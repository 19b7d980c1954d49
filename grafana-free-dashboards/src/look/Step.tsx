import type { ComponentChildren } from 'preact';
import { useEffect, useRef } from 'preact/hooks';

interface StepProps {
  /** Where in the row of steps this is: from 1. */
  number: number;
  of: number;
  question: string;
  why?: ComponentChildren;
  /** The way back to the step before, or out. */
  foot?: ComponentChildren;
  children: ComponentChildren;
}

/** One question on a screen, and one thing to press. A new question is read out and begins at its top. */
export function Step({ number, of, question, why, foot, children }: StepProps) {
  const head = useRef<HTMLHeadingElement>(null);
  useEffect(() => {
    window.scrollTo(0, 0);
    head.current?.focus({ preventScroll: true });
  }, [question]);
  return (
    <main id="main" class="page narrow step-page">
      <p class="step-place">
        <span class="step-track" aria-hidden="true">
          {Array.from({ length: of }, (_, i) => (
            <span key={i} class={i < number ? 'had' : ''} />
          ))}
        </span>
        <span>
          {number} of {of}
        </span>
      </p>
      <h1 tabIndex={-1} ref={head}>
        {question}
      </h1>
      {why !== undefined && <p class="next">{why}</p>}
      {children}
      {foot !== undefined && <div class="step-foot">{foot}</div>}
    </main>
  );
}
