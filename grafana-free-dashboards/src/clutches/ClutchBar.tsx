/** How far a clutch is, as a small bar; its words stand beside it. */
export function ClutchBar({ stage }: { stage: number | null }) {
  const share = stage === null ? 0 : Math.min(1, Math.max(0, stage)) * 100;
  return (
    <svg
      class="clutch-bar"
      viewBox="0 0 100 3"
      preserveAspectRatio="none"
      aria-hidden="true"
      focusable="false"
    >
      <rect class="stage-rest" width="100" height="3" />
      {stage !== null && <rect class="stage-done" width={share} height="3" />}
    </svg>
  );
}
