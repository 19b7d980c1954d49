import { signal } from '@preact/signals';
import { post, wordsOf } from '../http/api.ts';
import type { Alarm } from '../http/shapes.ts';
import { refresh } from '../live/now.ts';

/** What became of a press on "I am on it", by occurrence. Nothing is called answered before the service said so. */
export type Answering =
  | { step: 'telling' }
  | { step: 'told'; alarm: Alarm }
  | { step: 'failed'; words: string };

export const answering = signal<ReadonlyMap<string, Answering>>(new Map());

function set(occurrence: string, state: Answering): void {
  answering.value = new Map(answering.value).set(occurrence, state);
}

export async function answer(occurrence: string): Promise<void> {
  if (answering.value.get(occurrence)?.step === 'telling') return;
  set(occurrence, { step: 'telling' });
  try {
    set(occurrence, {
      step: 'told',
      alarm: await post<Alarm>(`/api/alarms/${encodeURIComponent(occurrence)}/answers`),
    });
  } catch (cause) {
    set(occurrence, { step: 'failed', words: wordsOf(cause) });
  }
  await refresh();
}

export function needsAnswer(alarm: Alarm): boolean {
  return alarm.state !== 'acknowledged';
}
