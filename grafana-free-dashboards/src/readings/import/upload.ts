import { Refusal, signedOutCount } from '../../http/api.ts';
import type { ImportView } from './shapes.ts';

/** Sends a file and tells how far it is, which fetch can't. */
export function sendFile(file: File, onSent: (share: number) => void): Promise<ImportView> {
  return new Promise((resolve, reject) => {
    const request = new XMLHttpRequest();
    request.open('POST', `/api/imports?fileName=${encodeURIComponent(file.name)}`);
    request.setRequestHeader('Content-Type', 'text/csv');
    request.setRequestHeader('Accept', 'application/json');
    request.upload.onprogress = (event) => onSent(event.total > 0 ? event.loaded / event.total : 0);
    request.onload = () => {
      if (request.status === 401) signedOutCount.value++;
      const answer = read(request.responseText);
      if (request.status === 201 && answer !== null) resolve(answer as unknown as ImportView);
      else reject(new Refusal(request.status, refusalWords(request.status, answer)));
    };
    request.onerror = () =>
      reject(new Refusal(0, 'The file did not arrive. Is this phone in the network? Nothing was stored.'));
    request.send(file);
  });
}

function read(text: string): Record<string, unknown> | null {
  try {
    const found: unknown = JSON.parse(text);
    return typeof found === 'object' && found !== null ? (found as Record<string, unknown>) : null;
  } catch {
    return null;
  }
}

function refusalWords(status: number, answer: Record<string, unknown> | null): string {
  const words = answer?.detail ?? answer?.title;
  return typeof words === 'string' ? words : `The service refused (${status}).`;
}
