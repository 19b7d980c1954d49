import { chooseRedLight, redLight } from './light.ts';

export function RedLight() {
  return (
    <button
      type="button"
      class="quiet small"
      aria-pressed={redLight.value}
      onClick={() => chooseRedLight(!redLight.value)}
    >
      {redLight.value ? 'Red light is on' : 'Red light'}
    </button>
  );
}
