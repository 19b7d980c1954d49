import { signal } from '@preact/signals';

/** A refusal of the service, in its own words (RFC 9457), or the words for what went wrong on the way. */
export class Refusal extends Error {
  readonly status: number;
  readonly errors: Record<string, string[]>;

  constructor(status: number, message: string, errors: Record<string, string[]> = {}) {
    super(message);
    this.status = status;
    this.errors = errors;
  }
}

/** Raised by one whenever the service says that nobody is signed in; the session is then asked anew. */
export const signedOutCount = signal(0);

const PATIENCE_MS = 15_000;

export async function ask<T>(
  method: string,
  path: string,
  body?: unknown,
  cache: RequestCache = 'no-store',
): Promise<T> {
  const response = await send(method, path, body, cache);
  if (response.ok) return (response.status === 204 ? undefined : await readJson(response)) as T;
  if (response.status === 401) signedOutCount.value++;
  throw await refusalOf(response);
}

export const get = <T>(path: string): Promise<T> => ask<T>('GET', path);
/** For answers that the service lets the browser keep, such as a part of the past that is over. */
export const getKept = <T>(path: string): Promise<T> => ask<T>('GET', path, undefined, 'default');
export const post = <T>(path: string, body?: unknown): Promise<T> => ask<T>('POST', path, body);
export const put = <T>(path: string, body?: unknown): Promise<T> => ask<T>('PUT', path, body);
export const remove = (path: string): Promise<void> => ask<void>('DELETE', path);

async function send(method: string, path: string, body: unknown, cache: RequestCache): Promise<Response> {
  // A picture is sent as it is, with its own type; everything else as JSON.
  const picture = body instanceof Blob;
  try {
    return await fetch(path, {
      method,
      headers: {
        Accept: 'application/json',
        ...(body === undefined ? {} : { 'Content-Type': picture ? body.type : 'application/json' }),
      },
      ...(body === undefined ? {} : { body: picture ? body : JSON.stringify(body) }),
      cache,
      credentials: 'same-origin',
      signal: AbortSignal.timeout(PATIENCE_MS),
    });
  } catch (cause) {
    const late = cause instanceof DOMException && cause.name === 'TimeoutError';
    throw new Refusal(
      0,
      late
        ? 'The service did not answer within 15 s. Nothing is known to have changed.'
        : 'The service cannot be reached. Is this phone in the network?',
    );
  }
}

async function readJson(response: Response): Promise<unknown> {
  const text = await response.text();
  if (text === '') return undefined;
  try {
    return JSON.parse(text);
  } catch {
    throw new Refusal(response.status, 'The answer was not one of the service. Is something in between?');
  }
}

async function refusalOf(response: Response): Promise<Refusal> {
  const problem = await readJson(response).catch(() => undefined);
  if (typeof problem !== 'object' || problem === null) {
    return new Refusal(response.status, `The service refused (${response.status}).`);
  }
  const { title, detail, errors } = problem as Record<string, unknown>;
  const fields = errorsOf(errors);
  // With field errors the words stand beside the fields; the title is enough above them.
  const words = Object.keys(fields).length > 0 ? (title ?? detail) : (detail ?? title);
  return new Refusal(
    response.status,
    typeof words === 'string' ? words : `The service refused (${response.status}).`,
    fields,
  );
}

function errorsOf(errors: unknown): Record<string, string[]> {
  if (typeof errors !== 'object' || errors === null) return {};
  const fields: Record<string, string[]> = {};
  for (const [name, words] of Object.entries(errors)) {
    if (Array.isArray(words)) fields[name] = words.map(String);
  }
  return fields;
}

export function wordsOf(cause: unknown): string {
  return cause instanceof Refusal ? cause.message : 'Something went wrong on this page. Load it again.';
}
