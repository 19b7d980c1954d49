import { describe, expect, it } from 'vitest';
import { keepingOf } from '../../../mock/keeping.ts';
import type { Keeping } from '../../http/probeShapes.ts';
import { keepingSentence, orUnknown, sourceTone } from './words.ts';

const AT = Date.parse('2026-11-25T03:12:00Z');

describe('where readings are kept', () => {
  const well = keepingOf('calm', AT);
  const withSource = (state: string): Keeping => ({
    ...well,
    source: { ...well.source, state: state as Keeping['source']['state'] },
  });
  const withStore = (kind: string): Keeping => ({
    ...well,
    store: { ...well.store, kind: kind as Keeping['store']['kind'] },
  });

  it('is well in one sentence, and in no other state', () => {
    const calm = 'Every reading is kept.';
    expect(keepingSentence(well)).toBe(calm);
    for (const state of ['starting', 'reconnecting', 'broken', 'a word of a later service'])
      expect(keepingSentence(withSource(state))).not.toBe(calm);
    for (const kind of ['spooling', 'refusing', 'damaged', 'unreadable', 'a word of a later service'])
      expect(keepingSentence(withStore(kind))).not.toBe(calm);
  });

  it('says the gravest first', () => {
    const both = { ...withStore('refusing'), source: withSource('broken').source };
    expect(keepingSentence(both)).toBe('Readings cannot be kept just now.');
    expect(keepingSentence(withSource('broken'))).toBe('No readings come in.');
  });

  it('knows a source that is only being connected from one that is lost', () => {
    expect(['listening', 'starting', 'reconnecting', 'broken'].map(sourceTone)).toEqual([
      'calm',
      'unknown',
      'warning',
      'warning',
    ]);
  });

  it('never makes a zero of what is not known', () => expect(orUnknown(null, String)).toBe('not known'));
});
