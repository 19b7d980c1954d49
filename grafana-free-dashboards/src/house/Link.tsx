import type { ComponentChildren } from 'preact';
import { go } from './route.ts';

interface LinkProps {
  to: string;
  class?: string;
  current?: boolean;
  children: ComponentChildren;
}

/** A true link: opens in a new tab, can be copied; a plain press changes the page without loading it anew. */
export function Link({ to, class: classes, current, children }: LinkProps) {
  return (
    <a
      href={to}
      {...(classes === undefined ? {} : { class: classes })}
      {...(current === true ? { 'aria-current': 'page' as const } : {})}
      onClick={(event: MouseEvent) => {
        if (event.button !== 0 || event.metaKey || event.ctrlKey || event.shiftKey || event.altKey) return;
        event.preventDefault();
        go(to);
      }}
    >
      {children}
    </a>
  );
}
