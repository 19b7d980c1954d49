import { signal } from '@preact/signals';

/** The path that is shown. Pages are few, so a page is a path and nothing more. */
export const path = signal(location.pathname);

export function go(to: string): void {
  if (to === path.value) return;
  history.pushState(null, '', to);
  arrive();
}

function arrive(): void {
  path.value = location.pathname;
  window.scrollTo(0, 0);
}

export function followHistory(): () => void {
  const moved = () => {
    path.value = location.pathname;
  };
  window.addEventListener('popstate', moved);
  return () => window.removeEventListener('popstate', moved);
}

export type Page =
  | { page: 'first' }
  | { page: 'incubator'; key: string }
  | { page: 'clutches' }
  | { page: 'clutch'; key: string }
  | { page: 'probes' }
  | { page: 'calling' }
  | { page: 'phone' }
  | { page: 'none' };

export function pageOf(at: string): Page {
  const parts = at.split('/').filter((p) => p !== '');
  if (parts.length === 0) return { page: 'first' };
  if (parts[0] === 'incubators' && parts.length === 2) {
    return { page: 'incubator', key: decoded(parts[1] ?? '') };
  }
  if (parts[0] === 'clutches') {
    if (parts.length === 1) return { page: 'clutches' };
    if (parts.length === 2 && parts[1] !== 'new') return { page: 'clutch', key: decoded(parts[1] ?? '') };
  }
  if (parts.length === 1 && (parts[0] === 'probes' || parts[0] === 'calling' || parts[0] === 'phone')) {
    return { page: parts[0] };
  }
  return { page: 'none' };
}

function decoded(part: string): string {
  try {
    return decodeURIComponent(part);
  } catch {
    return part;
  }
}
