import { useState } from 'preact/hooks';
import { Link } from '../house/Link.tsx';
import type { Now } from '../http/shapes.ts';

/** Only paths of this page become links; anything else is shown as words. */
export function isOwnPath(href: string | null): href is string {
  return href !== null && /^\/(?!\/)/.test(href) && !href.startsWith('/api/');
}

/** As many as fit under the room; a season with thirty clutches has more, and they are a press away. */
const AT_FIRST = 6;

export function ToDo({ items }: { items: Now['toDo'] }) {
  const [all, setAll] = useState(false);
  if (items.length === 0) return null;
  const shown = all ? items : items.slice(0, AT_FIRST);
  return (
    <section class="to-do" aria-labelledby="to-do">
      <h2 id="to-do">To do</h2>
      <ul>
        {shown.map((item) => (
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
      {shown.length < items.length && (
        <button type="button" class="to-do-more" onClick={() => setAll(true)}>
          {items.length - shown.length} more
        </button>
      )}
    </section>
  );
}
