import { signal } from '@preact/signals';
import { get, post, remove, wordsOf } from '../http/api.ts';
import type { Session } from '../http/shapes.ts';

export const session = signal<Session | null>(null);
export const sessionTrouble = signal<string | null>(null);

export async function askSession(): Promise<void> {
  try {
    session.value = await get<Session>('/api/session');
    sessionTrouble.value = null;
  } catch (cause) {
    sessionTrouble.value = wordsOf(cause);
  }
}

export async function signIn(name: string, password: string): Promise<void> {
  await post('/api/session', { name, password });
  await askSession();
}

export async function claim(code: string, name: string, password: string): Promise<void> {
  await post('/api/claim', { code, name, password });
  await askSession();
}

export async function signOut(): Promise<void> {
  await remove('/api/session');
  await askSession();
}
