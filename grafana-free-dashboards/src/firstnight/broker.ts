import { get } from '../http/api.ts';

/** Where a probe publishes. */
export interface Broker {
  port: number;
  topic: string;
  /** Whether it listens beyond the computer that it runs on; null when the service does not tell. */
  beyond: boolean | null;
  user: string | null;
  /** Name of an external broker; null or missing when the service itself is the broker. */
  host?: string | null;
}

/** What holds unless the settings say otherwise. */
export const USUAL_BROKER: Broker = {
  port: 1883,
  topic: 'incubation/{incubator}/{probe}/{quantity}',
  beyond: null,
  user: null,
};

export async function askBroker(): Promise<Broker> {
  try {
    return await get<Broker>('/api/broker');
  } catch {
    return USUAL_BROKER;
  }
}

const LOCAL = new Set(['localhost', '127.0.0.1', '[::1]', '::1']);

/** Whether the page was opened under a name that no probe could use. */
export function isLocal(host: string): boolean {
  return LOCAL.has(host) || host.endsWith('.localhost');
}

/** The topic with an example in the place of each part. */
export function exampleTopic(template: string, incubator: string): string {
  return template
    .replaceAll('{incubator}', incubator)
    .replaceAll('{probe}', `${incubator}-1`)
    .replaceAll('{quantity}', 'temperature');
}
