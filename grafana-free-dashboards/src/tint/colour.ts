// A tint is the keeper's word; its colour only draws it. Contrast by WCAG 2.2, "relative luminance" and "contrast ratio".

export const UNLIT = '#3a3329';

const HEX = /^#[0-9a-f]{6}$/i;

/** The colour to draw, or that of an unlit shell where none was seen or what was sent is no colour. */
export function drawable(colour: string | null): string {
  return colour !== null && HEX.test(colour) ? colour.toLowerCase() : UNLIT;
}

function channels(colour: string): [number, number, number] {
  const n = Number.parseInt(colour.slice(1), 16);
  return [(n >> 16) & 255, (n >> 8) & 255, n & 255];
}

export function luminance(colour: string): number {
  const [r, g, b] = channels(colour).map((v) => {
    const s = v / 255;
    return s <= 0.04045 ? s / 12.92 : ((s + 0.055) / 1.055) ** 2.4;
  }) as [number, number, number];
  return 0.2126 * r + 0.7152 * g + 0.0722 * b;
}

export function contrast(a: string, b: string): number {
  const [x, y] = [luminance(a), luminance(b)];
  return (Math.max(x, y) + 0.05) / (Math.min(x, y) + 0.05);
}

/** The pencil for a number on a shell of that colour: black or white, whichever is read better (never under 4.5). */
export function pencil(colour: string): '#000000' | '#ffffff' {
  return contrast(colour, '#000000') >= contrast(colour, '#ffffff') ? '#000000' : '#ffffff';
}

/** A colour moved towards another by a share. */
export function mixed(colour: string, other: string, share: number): string {
  const [a, b] = [channels(colour), channels(other)];
  const hex = a.map((v, i) => Math.round(v + ((b[i] ?? 0) - v) * share).toString(16));
  return `#${hex.map((h) => h.padStart(2, '0')).join('')}`;
}
