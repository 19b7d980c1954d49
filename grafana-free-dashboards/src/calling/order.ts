import type { CallStep } from '../http/shapes.ts';
import { span } from '../words/times.ts';

/** A step as it is edited: figures are texts until they are read. */
export interface StepTexts {
  /** Only to tell rows apart on the page. */
  row: number;
  id: string | null;
  who: string;
  channel: 'mail' | 'webhook';
  address: string;
  secret: string;
  hasSecret: boolean;
  afterMinutes: string;
  repeatMinutes: string;
  enabled: boolean;
}

let rows = 0;

export function textsOfStep(step: CallStep): StepTexts {
  return {
    row: rows++,
    id: step.id,
    who: step.who,
    channel: step.channel,
    address: step.address,
    secret: '',
    hasSecret: step.hasSecret,
    afterMinutes: String(step.afterSeconds / 60),
    repeatMinutes: String(step.repeatSeconds / 60),
    enabled: step.enabled,
  };
}

export function newStep(previous: StepTexts | undefined): StepTexts {
  return {
    row: rows++,
    id: null,
    who: '',
    channel: 'mail',
    address: '',
    secret: '',
    hasSecret: false,
    afterMinutes: previous === undefined ? '0' : String((Number(previous.afterMinutes) || 0) + 10),
    repeatMinutes: '5',
    enabled: true,
  };
}

export type OrderParsed = { steps: CallStep[] } | { errors: Record<string, string[]> };

/** Reads the texts; field names of errors are those of the service, `steps[0].afterSeconds`. */
export function parseOrder(texts: readonly StepTexts[]): OrderParsed {
  const errors: Record<string, string[]> = {};
  const steps = texts.map((t, i): CallStep => {
    const seconds = (text: string, field: string): number => {
      const minutes = Number(text.trim().replace(',', '.'));
      if (text.trim() === '' || !Number.isFinite(minutes) || minutes < 0) {
        errors[`steps[${i}].${field}`] = ['A number of minutes is needed here.'];
      }
      return Math.round(minutes * 60);
    };
    return {
      id: t.id,
      position: i + 1,
      who: t.who.trim(),
      channel: t.channel,
      address: t.address.trim(),
      hasSecret: t.hasSecret,
      afterSeconds: seconds(t.afterMinutes, 'afterSeconds'),
      repeatSeconds: seconds(t.repeatMinutes, 'repeatSeconds'),
      enabled: t.enabled,
      ...(t.secret === '' ? {} : { secret: t.secret }),
    };
  });
  return Object.keys(errors).length > 0 ? { errors } : { steps };
}

export function moved<T>(list: readonly T[], from: number, by: number): T[] {
  const to = from + by;
  const item = list[from];
  if (item === undefined || to < 0 || to >= list.length) return [...list];
  const out = list.filter((_, i) => i !== from);
  out.splice(to, 0, item);
  return out;
}

/** The order as a person would tell it. */
export function orderSentence(steps: readonly CallStep[]): string {
  const on = steps.filter((s) => s.enabled);
  const [first, second] = on;
  if (first === undefined) return 'Nobody would be called.';
  const start = `${first.who} is called ${first.afterSeconds === 0 ? 'at once' : `after ${span(first.afterSeconds * 1000)}`}`;
  if (second === undefined) return `${start}, and nobody else.`;
  const more = on.length > 2 ? `, and ${on.length - 2} more after that` : '';
  return `${start}; without an answer, ${second.who} after ${span(second.afterSeconds * 1000)}${more}.`;
}
