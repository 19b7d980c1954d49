import { describe, expect, it } from 'vitest';
import { TINTS } from '../../../mock/clutchData.ts';
import type { EggStatus } from '../../http/clutchShapes.ts';
import { contrast, drawable, mixed, pencil, UNLIT } from '../../tint/colour.ts';
import { lookOf, STATUS_WORD } from './shape.ts';

const ALL = Object.keys(STATUS_WORD) as EggStatus[];

describe('the shape of an egg', () => {
  it('differs between every two states without any colour', () => {
    const drawn = ALL.map((status) => {
      const { outline, mark, glows } = lookOf(status);
      // A glow is a light and not a shape: it may not be all that tells two states apart.
      return { status, form: `${outline} ${mark}`, glows };
    });
    for (const a of drawn) {
      for (const b of drawn) if (a.status !== b.status) expect(a.form).not.toBe(b.form);
    }
  });

  it('glows for what lives and never for what does not', () => {
    expect(ALL.filter((s) => lookOf(s).glows).sort()).toEqual(['developing', 'doubtful', 'pipped']);
  });

  it('falls back to an unlit shell for a state that is not known here', () => {
    expect(lookOf('asleep' as EggStatus).glows).toBe(false);
  });
});

// Contrast: WCAG 2.2, success criterion 1.4.3, 4.5 to 1. Colours: those a new facility begins with, and the mock's.
describe('the number on a shell', () => {
  const service = ['#e58a94', '#f0a878', '#b5423f', '#a3b86c', '#e6cf6a', '#e9e1cf', '#5b4a45'];

  it('is read on every tint, also where the glow is a little lighter', () => {
    for (const colour of [...service, ...TINTS.map((t) => t.colour)]) {
      expect(contrast(colour, pencil(colour))).toBeGreaterThanOrEqual(4.5);
      expect(contrast(mixed(colour, '#ffffff', 0.06), pencil(colour))).toBeGreaterThanOrEqual(4.5);
    }
  });

  it('is read on any colour a keeper may choose', () => {
    for (let r = 0; r < 256; r += 15) {
      for (let g = 0; g < 256; g += 15) {
        for (let b = 0; b < 256; b += 15) {
          const colour = `#${[r, g, b].map((v) => v.toString(16).padStart(2, '0')).join('')}`;
          expect(contrast(colour, pencil(colour))).toBeGreaterThanOrEqual(4.5);
        }
      }
    }
  });

  it('takes what is no colour for an unlit shell', () => {
    for (const wrong of [null, '', 'red', '#12345', 'url(#x)']) expect(drawable(wrong)).toBe(UNLIT);
    expect(drawable('#A1B2C3')).toBe('#a1b2c3');
  });
});
