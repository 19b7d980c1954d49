import { signal } from '@preact/signals';
import type { ComponentType } from 'preact';

/** A part of the page that is fetched when it is first shown. A failed fetch can be tried again. */
export function deferred<P extends object>(load: () => Promise<ComponentType<P>>): ComponentType<P> {
  const loaded = signal<ComponentType<P> | null>(null);
  const failed = signal(false);
  let asked = false;

  const fetchPart = (): void => {
    asked = true;
    failed.value = false;
    load().then(
      (part) => {
        loaded.value = part;
      },
      () => {
        failed.value = true;
      },
    );
  };

  return function Deferred(props: P) {
    if (!asked) fetchPart();
    const Part = loaded.value;
    if (Part !== null) return <Part {...props} />;
    return (
      <main id="main" class="page">
        <h1>{failed.value ? 'This part of the page could not be fetched.' : 'One moment…'}</h1>
        {failed.value && (
          <button type="button" class="quiet" onClick={fetchPart}>
            Try again
          </button>
        )}
      </main>
    );
  };
}
