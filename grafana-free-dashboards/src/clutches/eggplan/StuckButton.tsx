import type { EggView } from '../../http/clutchShapes.ts';
import { clumpOf, eggSize, loosen, stick } from './plan.ts';

interface StuckButtonProps {
  eggs: EggView[];
  egg: number;
  aspect: number;
  onChange: (eggs: EggView[]) => void;
}

/** Whether an egg is stuck to its neighbours is part of the record: stuck eggs stay together. */
export function StuckButton({ eggs, egg, aspect, onChange }: StuckButtonProps) {
  const held = eggs.find((e) => e.number === egg);
  if (held === undefined) return null;
  if (held.clump !== null) {
    return (
      <button type="button" class="quiet" onClick={() => onChange(loosen(eggs, egg))}>
        Egg {egg} lies free
      </button>
    );
  }
  const touching = clumpOf(eggs, egg, aspect, eggSize(eggs, aspect));
  if (touching.size < 2)
    return <p class="hint">Egg {egg} touches no other: lay it against those it is stuck to.</p>;
  return (
    <button type="button" class="quiet" onClick={() => onChange(stick(eggs, egg, touching))}>
      Egg {egg} is stuck to the {touching.size - 1 === 1 ? 'one' : touching.size - 1} it touches
    </button>
  );
}
