// What stretch of time a chart shows, and how it moves. Pure: instants in, instants out.

const MINUTE = 60_000;
const DAY = 86_400_000;

export interface View {
  from: number;
  to: number;
}

/** Below this there is less than one reading to see; above it the service has nothing to say. */
export const SHORTEST_MS = 5 * MINUTE;
export const LONGEST_MS = 400 * DAY;
/** How far back one can go: a season and the one before it. */
export const EARLIEST_MS = 800 * DAY;

/** What is shown: the last so many milliseconds up to now, or up to an instant where the keeper stopped. */
export interface Held {
  span: number;
  /** Null: the view goes along with the time. */
  end: number | null;
}

export function viewOf(held: Held, now: number): View {
  const to = held.end ?? now;
  return { from: to - held.span, to };
}

/** Moved by a share of its width: positive is later. At the end of time it goes along with it again. */
export function panned(held: Held, share: number, now: number): Held {
  return held0(held.span, viewOf(held, now).to + share * held.span, now);
}

/** Closer (factor below 1) or farther, with the instant at `share` of the width staying where it is. */
export function zoomed(held: Held, factor: number, share: number, now: number): Held {
  const { from } = viewOf(held, now);
  const span = Math.min(LONGEST_MS, Math.max(SHORTEST_MS, held.span * factor));
  const around = from + share * held.span;
  // Going along with the time it still does, whatever the width.
  if (held.end === null && share > 0.98) return { span, end: null };
  return held0(span, around + (1 - share) * span, now);
}

/** So that an instant is in view, with some room beside it. */
export function revealing(held: Held, at: number, now: number): Held {
  const { from, to } = viewOf(held, now);
  if (at < from) return held0(held.span, at + held.span * 0.8, now);
  if (at > to) return held0(held.span, at + held.span * 0.2, now);
  return held;
}

function held0(span: number, end: number, now: number): Held {
  const earliest = now - EARLIEST_MS + span;
  return end >= now ? { span, end: null } : { span, end: Math.round(Math.max(earliest, end)) };
}

export interface KeyAction {
  held: Held;
  mark: number;
}

/**
 * What a key does: arrows walk the mark, with Shift they move the view; + and − come closer and go farther; Home is the
 * start of what is shown and then what was before it; End is now. Null for any other key.
 */
export function keyed(
  key: string,
  shift: boolean,
  held: Held,
  mark: number | null,
  stepMs: number,
  now: number,
): KeyAction | null {
  const { from, to } = viewOf(held, now);
  const here = mark === null || mark < from || mark > to ? to : mark;
  const walk = (by: number): KeyAction => {
    const at = Math.min(now, here + by);
    return { mark: at, held: revealing(held, at, now) };
  };
  const move = (share: number): KeyAction => {
    const next = panned(held, share, now);
    return { held: next, mark: Math.min(now, here + viewOf(next, now).from - from) };
  };
  const zoom = (factor: number): KeyAction => {
    const next = zoomed(held, factor, (here - from) / held.span, now);
    return { held: next, mark: here };
  };
  switch (key) {
    case 'ArrowLeft':
      return shift ? move(-0.5) : walk(-stepMs);
    case 'ArrowRight':
      return shift ? move(0.5) : walk(stepMs);
    case 'PageUp':
      return move(-1);
    case 'PageDown':
      return move(1);
    case '+':
    case '=':
      return zoom(0.5);
    case '-':
    case '−':
    case '_':
      return zoom(2);
    case 'Home':
      return here <= from ? move(-1) : { held, mark: from };
    case 'End':
      return { held: { span: held.span, end: null }, mark: now };
    default:
      return null;
  }
}
