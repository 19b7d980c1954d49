import { Link } from '../house/Link.tsx';
import type { Now } from '../http/shapes.ts';

/** Only paths of this page become links; anything else is shown as words. */
export function isOwnPath(href: string | null): href is string {
  return href !== null && /^\/(?!\/)/.test(href) && !href.startsWith('/api/');
}

export function ToDo({ items }: { items: Now['toDo'] }) {
  if (items.length === 0) return null;
  return (
    <section class="to-do" aria-labelledby="to-do">
      <h2 id="to-do">To do</h2>
      <ul>
        {items.map((item) => (
          <li key={`${item.when} ${item.what}`}>
            {isOwnPath(item.href) ? (
              <Link to={item.href} class="to-do-item">
                <span class="when">{item.when}</span>
                <span>{item.what}</span>
              </Link>
            ) : (
              <span class="to-do-item">
                <span class="when">{item.when}</span>
                <span>{item.what}</span>
              </span>
            )}
          </li>
        ))}
      </ul>
    </section>
  );
}
