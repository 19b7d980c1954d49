import type { ComponentChildren } from 'preact';
import { eggPath } from '../clutches/eggplan/plan.ts';
import { drawable } from '../tint/colour.ts';
import { redLight } from './light.ts';

interface Choice<T> {
  value: T;
  word: string;
  colour?: string;
  meaning?: string;
}

interface ChipsProps<T> {
  legend: ComponentChildren;
  choices: readonly Choice<T>[];
  chosen: readonly T[];
  onChoose: (value: T) => void;
}

/** Choices a thumb can hit. A second tap takes a choice back. In red light they are words only. */
export function Chips<T extends string | boolean>({ legend, choices, chosen, onChoose }: ChipsProps<T>) {
  return (
    <fieldset class="chips">
      <legend>{legend}</legend>
      {choices.map(({ value, word, colour, meaning }) => (
        <button
          key={String(value)}
          type="button"
          class="chip"
          aria-pressed={chosen.includes(value)}
          {...(meaning === undefined ? {} : { title: meaning })}
          onClick={() => onChoose(value)}
        >
          {colour !== undefined && !redLight.value && <Swatch colour={colour} />}
          {word}
        </button>
      ))}
    </fieldset>
  );
}

export function Swatch({ colour }: { colour: string }) {
  return (
    <svg class="swatch" width="16" height="20" viewBox="0 0 16 20" aria-hidden="true" focusable="false">
      <path d={eggPath(8, 10, 7.2, 9.2)} fill={drawable(colour)} />
    </svg>
  );
}
