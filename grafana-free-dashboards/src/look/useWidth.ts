import type { RefObject } from 'preact';
import { useEffect, useState } from 'preact/hooks';

/** The width an element has, in whole pixels, so that what is drawn in it keeps its letters at their size. */
export function useWidth(host: RefObject<HTMLElement | null>, first = 360): number {
  const [width, setWidth] = useState(first);
  useEffect(() => {
    const element = host.current;
    if (element === null) return;
    const measure = (): void => setWidth(Math.max(240, Math.floor(element.clientWidth) || first));
    measure();
    const watcher = new ResizeObserver(measure);
    watcher.observe(element);
    return () => watcher.disconnect();
  }, [host, first]);
  return width;
}
