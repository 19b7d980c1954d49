import type { ComponentChildren } from 'preact';
import { Link } from './Link.tsx';
import { path } from './route.ts';

const ICON = {
  room: 'M5 20V6a2 2 0 0 1 2-2h10a2 2 0 0 1 2 2v14M2.5 20.5h19M12 8v8',
  clutches:
    'M9 3.5c2.7 0 4.6 3.6 4.6 6.8s-2 5.2-4.6 5.2-4.6-2-4.6-5.2S6.3 3.5 9 3.5zM16.5 10.2c2 0 3.6 2.8 3.6 5.3s-1.6 4.3-3.6 4.3-3.6-1.8-3.6-4.3',
  probes: 'M6 3v10a3 3 0 0 0 6 0V8a3 3 0 0 1 6 0v13',
  calling: 'M4 9h4l7-5v16l-7-5H4zM18.5 9.5v5M21.5 7v10',
  phone: 'M7 2.5h10a1 1 0 0 1 1 1v17a1 1 0 0 1-1 1H7a1 1 0 0 1-1-1v-17a1 1 0 0 1 1-1zM10.5 18h3',
};

/** At the foot of a phone, where the thumb is; at the head of a desk. */
export function Nav({ notPlaced }: { notPlaced: number }) {
  const at = path.value;
  return (
    <nav class="nav" aria-label="Pages">
      <Tab
        to="/"
        icon="room"
        current={at === '/' || at.startsWith('/incubators/') || at === '/new-incubator'}
      >
        Room
      </Tab>
      <Tab to="/clutches" icon="clutches" current={at === '/clutches' || at.startsWith('/clutches/')}>
        Clutches
      </Tab>
      <Tab
        to="/probes"
        icon="probes"
        current={at === '/probes' || at.startsWith('/probes/') || at === '/keeping'}
      >
        Probes
        {notPlaced > 0 && (
          <span class="count">
            {notPlaced}
            <span class="unseen"> not yet placed</span>
          </span>
        )}
      </Tab>
      <Tab to="/calling" icon="calling" current={at === '/calling'}>
        Calling
      </Tab>
      <Tab to="/phone" icon="phone" current={at === '/phone'}>
        This phone
      </Tab>
    </nav>
  );
}

interface TabProps {
  to: string;
  icon: keyof typeof ICON;
  current: boolean;
  children: ComponentChildren;
}

function Tab({ to, icon, current, children }: TabProps) {
  return (
    <Link to={to} class="tab" current={current}>
      <svg viewBox="0 0 24 24" width="22" height="22" aria-hidden="true" focusable="false">
        <path
          d={ICON[icon]}
          fill="none"
          stroke="currentColor"
          stroke-width="1.7"
          stroke-linejoin="round"
          stroke-linecap="round"
        />
      </svg>
      <span class="tab-word">{children}</span>
    </Link>
  );
}
