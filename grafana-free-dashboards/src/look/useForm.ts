import { useState } from 'preact/hooks';
import { Refusal, wordsOf } from '../http/api.ts';

export interface Sending {
  busy: boolean;
  done: boolean;
  /** Words for the whole form. */
  words: string | null;
  /** Words beside each field, by the name the service uses. */
  errors: Record<string, string[]>;
  send: (work: () => Promise<void>) => Promise<void>;
  refuse: (errors: Record<string, string[]>) => void;
  /** Forgets words that no longer hold. */
  clear: () => void;
}

/** The states of a form that is sent: idle, busy, done, or refused with words for the form and for its fields. */
export function useSending(): Sending {
  const [state, set] = useState({
    busy: false,
    done: false,
    words: null as string | null,
    errors: {} as Record<string, string[]>,
  });
  const send = async (work: () => Promise<void>): Promise<void> => {
    if (state.busy) return;
    set({ busy: true, done: false, words: null, errors: {} });
    try {
      await work();
      set({ busy: false, done: true, words: null, errors: {} });
    } catch (cause) {
      set({
        busy: false,
        done: false,
        words: wordsOf(cause),
        errors: cause instanceof Refusal ? cause.errors : {},
      });
    }
  };
  const refuse = (errors: Record<string, string[]>): void =>
    set({ busy: false, done: false, words: 'Something in the form is not right.', errors });
  const clear = (): void => set({ busy: false, done: false, words: null, errors: {} });
  return { ...state, send, refuse, clear };
}
