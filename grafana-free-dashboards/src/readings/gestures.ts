// What fingers, mouse and wheel mean on a chart. One finger sideways moves in time (up and down still moves the page,
// touch-action: pan-y), two fingers come closer or go farther, a tap sets the mark, two taps come closer.

export interface GestureHandlers {
  /** By a share of the width; positive is later. */
  pan(share: number): void;
  /** Closer (below 1) or farther, around a share of the width. */
  zoom(factor: number, share: number): void;
  /** Where one points, as a share of the width; null when one no longer does. */
  mark(share: number | null): void;
}

const TAP_PIXELS = 8;
const TAP_MS = 350;
const DOUBLE_TAP_ZOOM = 0.4;
const WHEEL_ZOOM = 0.0022;

export function follow(element: HTMLElement, handlers: GestureHandlers): () => void {
  const fingers = new Map<number, { x: number; y: number }>();
  let start: { x: number; y: number; at: number } | null = null;
  let moved = false;
  let lastTap = { at: Number.NEGATIVE_INFINITY, x: 0 };

  const box = (): { left: number; width: number } => {
    const { left, width } = element.getBoundingClientRect();
    return { left, width: Math.max(1, width) };
  };
  const share = (x: number): number => {
    const { left, width } = box();
    return Math.min(1, Math.max(0, (x - left) / width));
  };
  const spread = (): { centre: number; distance: number } => {
    const xs = [...fingers.values()];
    const [a, b] = [xs[0], xs[1]];
    if (a === undefined || b === undefined) return { centre: 0, distance: 1 };
    return { centre: (a.x + b.x) / 2, distance: Math.max(24, Math.hypot(a.x - b.x, a.y - b.y)) };
  };

  const down = (event: PointerEvent): void => {
    if (event.pointerType === 'mouse' && event.button !== 0) return;
    element.setPointerCapture?.(event.pointerId);
    fingers.set(event.pointerId, { x: event.clientX, y: event.clientY });
    if (fingers.size === 1) {
      start = { x: event.clientX, y: event.clientY, at: event.timeStamp };
      moved = false;
    } else moved = true;
  };
  const move = (event: PointerEvent): void => {
    const before = fingers.get(event.pointerId);
    if (before === undefined) {
      if (event.pointerType === 'mouse') handlers.mark(share(event.clientX));
      return;
    }
    if (!moved && start !== null && Math.abs(event.clientX - start.x) < TAP_PIXELS) return;
    if (fingers.size === 1) {
      moved = true;
      fingers.set(event.pointerId, { x: event.clientX, y: event.clientY });
      handlers.pan((before.x - event.clientX) / box().width);
      return;
    }
    const was = spread();
    fingers.set(event.pointerId, { x: event.clientX, y: event.clientY });
    const is = spread();
    handlers.pan((was.centre - is.centre) / box().width);
    handlers.zoom(was.distance / is.distance, share(is.centre));
  };
  const up = (event: PointerEvent): void => {
    if (!fingers.delete(event.pointerId)) return;
    const began = start;
    if (moved || began === null || event.type === 'pointercancel') return;
    const held = event.timeStamp - began.at > TAP_MS;
    const twice =
      !held && event.timeStamp - lastTap.at < TAP_MS && Math.abs(event.clientX - lastTap.x) < TAP_PIXELS * 4;
    lastTap = { at: twice ? Number.NEGATIVE_INFINITY : event.timeStamp, x: event.clientX };
    if (twice) handlers.zoom(event.shiftKey ? 1 / DOUBLE_TAP_ZOOM : DOUBLE_TAP_ZOOM, share(event.clientX));
    else handlers.mark(share(event.clientX));
  };
  // The page scrolls by the wheel as everywhere; with Ctrl (which a pinch on a touch pad sends too) it zooms.
  const wheel = (event: WheelEvent): void => {
    if (event.ctrlKey) handlers.zoom(Math.exp(event.deltaY * WHEEL_ZOOM), share(event.clientX));
    else if (Math.abs(event.deltaX) > Math.abs(event.deltaY)) handlers.pan(event.deltaX / box().width);
    else return;
    event.preventDefault();
  };
  const leave = (event: PointerEvent): void => {
    if (event.pointerType === 'mouse' && fingers.size === 0) handlers.mark(null);
  };

  element.addEventListener('pointerdown', down);
  element.addEventListener('pointermove', move);
  element.addEventListener('pointerup', up);
  element.addEventListener('pointercancel', up);
  element.addEventListener('pointerleave', leave);
  element.addEventListener('wheel', wheel, { passive: false });
  return () => {
    element.removeEventListener('pointerdown', down);
    element.removeEventListener('pointermove', move);
    element.removeEventListener('pointerup', up);
    element.removeEventListener('pointercancel', up);
    element.removeEventListener('pointerleave', leave);
    element.removeEventListener('wheel', wheel);
  };
}
