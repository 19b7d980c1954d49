import type { Counted, PairingView } from '../http/clutchShapes.ts';
import { number } from '../words/units.ts';

export const percent = (p: number): string => `${number(p * 100, p > 0 && p < 0.01 ? 1 : 0)} %`;

/** "61 of 66 (92 %; between 83 and 97 % with 95 % confidence)". */
export function countedWords({ k, n, low, high }: Counted): string {
  return n === 0
    ? 'none yet'
    : `${k} of ${n} (${number((k / n) * 100, 0)} %; the truth lies between ${number(low * 100, 0)} and ${number(high * 100, 0)} % with 95 % confidence)`;
}

export function copiesWords(copies: number | null): string {
  return copies === null ? 'not known' : copies === 0 ? 'none' : copies === 1 ? 'one copy' : 'two copies';
}

export function expectedWords({ expectedCarriers, traitName }: PairingView): string | null {
  if (expectedCarriers === null) return null;
  const { mean, low, high } = expectedCarriers;
  const about = number(mean, mean % 1 === 0 ? 0 : 1);
  return low === high
    ? `${about} of the eggs carry ${traitName}.`
    : `About ${about} of the eggs carry ${traitName} (${low} to ${high}).`;
}

export function glowingWords({ glowing, traitName }: PairingView): string | null {
  if (glowing === null || glowing.carrier + glowing.other === 0) return null;
  const unsure = glowing.unsure === 0 ? '' : `, ${glowing.unsure} cannot be told`;
  return `${glowing.carrier} glow as carriers of ${traitName} do, ${glowing.other} otherwise${unsure}.`;
}
