import type { ComponentChildren } from 'preact';
import type { CalibrationPoints } from '../../http/probeShapes.ts';
import type { ProbeView } from '../../http/shapes.ts';
import { unshown } from '../../words/units.ts';
import { type Draft, lineOf, readNumber, truthOf } from './draft.ts';

/** What every step of a calibration is given. */
export interface StepParts {
  draft: Draft;
  change: (part: Partial<Draft>) => void;
  probe: ProbeView;
  points: CalibrationPoints;
  frame: { number: number; of: number };
  foot: ComponentChildren;
}

/** The points as they stand, in the quantity's own unit; those that are not complete are left out. */
export function pointsOf(draft: Draft, known: CalibrationPoints): { measured: number; truth: number }[] {
  const own = (typed: number): number => unshown(typed, draft.quantity);
  const read = (text: string): number | null => {
    const typed = readNumber(text);
    return typed === null ? null : own(typed);
  };
  const pairs: [number | null, number | null][] = [[read(draft.measured), truthOf(draft, known, own)]];
  if (draft.second) pairs.push([read(draft.measured2), read(draft.truth2)]);
  return pairs.flatMap(([measured, truth]) =>
    measured === null || truth === null ? [] : [{ measured, truth }],
  );
}

export const correctionOf = (draft: Draft, known: CalibrationPoints) => {
  const points = pointsOf(draft, known);
  return points.length === (draft.second ? 2 : 1) ? lineOf(points) : null;
};
