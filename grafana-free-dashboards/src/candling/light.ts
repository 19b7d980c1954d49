import { signal } from '@preact/signals';
import { keep, kept } from '../words/kept.ts';

/** Red light keeps the eyes used to the dark: deep red on black, nothing else lit, words instead of swatches. */
const KEY = 'incubation.redlight';
const THEME = { red: '#000000', usual: '#14110d' };

export const redLight = signal(kept(KEY) === 'on');

export function chooseRedLight(on: boolean): void {
  redLight.value = on;
  keep(KEY, on ? 'on' : 'off');
  showLight();
}

/** Sets the light of the whole page; the browser's own bar follows. */
export function showLight(): void {
  const root = document.documentElement;
  if (redLight.value) root.dataset.light = 'red';
  else delete root.dataset.light;
  document
    .querySelector('meta[name="theme-color"]')
    ?.setAttribute('content', redLight.value ? THEME.red : THEME.usual);
}
