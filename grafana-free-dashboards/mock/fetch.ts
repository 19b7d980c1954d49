import { vi } from 'vitest';

export interface Asked {
  method: string;
  path: string;
  body: unknown;
}

/** Answers fetch in tests: the first part of "GET /api/now" that fits is used; what fits nothing is a 404 problem. */
export function answerWith(answers: Record<string, () => unknown>): Asked[] {
  const asked: Asked[] = [];
  vi.stubGlobal('fetch', async (path: string, init: RequestInit = {}) => {
    const method = init.method ?? 'GET';
    asked.push({ method, path, body: init.body === undefined ? undefined : JSON.parse(String(init.body)) });
    const key = Object.keys(answers).find((k) => `${method} ${path}`.startsWith(k));
    const answer = key === undefined ? problem(404, 'There is no such thing.') : await answers[key]?.();
    if (answer instanceof Response) return answer;
    return new Response(answer === undefined ? '' : JSON.stringify(answer), { status: 200 });
  });
  return asked;
}

export function problem(status: number, detail: string, errors?: Record<string, string[]>): Response {
  const body = {
    type: '/problems/invalid',
    title: 'Something in the form is not right.',
    status,
    detail,
    errors,
  };
  return new Response(JSON.stringify(body), {
    status,
    headers: { 'Content-Type': 'application/problem+json' },
  });
}
