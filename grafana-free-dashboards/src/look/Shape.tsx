import type { Tone } from '../http/shapes.ts';

/**
 * The shape that goes with a tone; none is round, so none can be taken for an egg.
 * Danger: a full triangle. Warning: an outlined one. Unknown: a broken square. Calm: a level between two limits.
 */
export function Shape({
  tone,
  down = false,
  large = false,
}: {
  tone: Tone;
  down?: boolean;
  large?: boolean;
}) {
  const size = large ? 26 : 14;
  return (
    <svg
      class={`shape ${tone}`}
      viewBox="0 0 24 24"
      width={size}
      height={size}
      aria-hidden="true"
      focusable="false"
    >
      {tone === 'danger' && <path d={down ? 'M12 22L1 3h22z' : 'M12 2l11 19H1z'} fill="currentColor" />}
      {tone === 'warning' && (
        <path
          d={down ? 'M12 19L3.5 4.5h17z' : 'M12 5l8.5 14.5h-17z'}
          fill="none"
          stroke="currentColor"
          stroke-width="3.2"
          stroke-linejoin="round"
        />
      )}
      {tone === 'unknown' && (
        <path
          d="M4 9V4h5M15 4h5v5M20 15v5h-5M9 20H4v-5M9 12h6"
          fill="none"
          stroke="currentColor"
          stroke-width="3"
        />
      )}
      {tone === 'calm' && (
        <path
          d="M3 4h18M3 20h18M6 12h12"
          fill="none"
          stroke="currentColor"
          stroke-width="3"
          stroke-linecap="square"
        />
      )}
    </svg>
  );
}

export const TONE_WORD: Record<Tone, string> = {
  calm: 'All well',
  warning: 'Warning',
  danger: 'Danger',
  unknown: 'Not known',
};
