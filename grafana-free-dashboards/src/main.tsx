import './look/tokens.css';
import './look/base.css';
import './look/controls.css';
import './house/house.css';
import './firstscreen/firstscreen.css';
import './facility/facility.css';
import './look/redlight.css';
import './probes/probes.css';
import './calling/calling.css';
import { render } from 'preact';
import { App } from './house/App.tsx';

// The service worker (offline notes, calls to this phone) comes with the offline queue; it will be registered here.

const root = document.getElementById('app');
if (root !== null) render(<App />, root);
