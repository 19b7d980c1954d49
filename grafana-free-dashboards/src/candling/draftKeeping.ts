// A look that is half entered survives the page: it is kept on this phone until it is saved.
import { keep, kept } from '../words/kept.ts';
import { type Draft, isEmpty } from './draft.ts';

const keyOf = (clutch: string, egg: number): string => `incubation.draft.${clutch}.${egg}`;

export function keepDraft(clutch: string, draft: Draft): void {
  if (isEmpty(draft)) dropDraft(clutch, draft.egg);
  else keep(keyOf(clutch, draft.egg), JSON.stringify(draft));
}

export function keptDraft(clutch: string, egg: number): Draft | null {
  try {
    const draft = JSON.parse(kept(keyOf(clutch, egg)) ?? 'null') as Draft | null;
    return draft !== null && draft.egg === egg && typeof draft.id === 'string' && Array.isArray(draft.shell)
      ? draft
      : null;
  } catch {
    return null;
  }
}

export function dropDraft(clutch: string, egg: number): void {
  try {
    localStorage.removeItem(keyOf(clutch, egg));
  } catch {
    // Nothing was kept then.
  }
}
