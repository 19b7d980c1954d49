import { describe, expect, it } from 'vitest';
import { nightRouteOf } from './nightRoutes.tsx';

describe('a path of the night half', () => {
  it('leads to its page', () => {
    expect(nightRouteOf('/first-night')).toEqual({ page: 'first night' });
    expect(nightRouteOf('/clutches/new')).toEqual({ page: 'new clutch' });
    expect(nightRouteOf('/clutches/c-03/review')).toEqual({ page: 'review', key: 'c-03' });
    expect(nightRouteOf('/clutches/a%2Fb/move')).toEqual({ page: 'move', key: 'a/b' });
    expect(nightRouteOf('/clutches/%E0%A4%A/move')).toEqual({ page: 'move', key: '%E0%A4%A' });
    expect(nightRouteOf('/call-out')).toEqual({ page: 'call-out' });
  });

  it('leaves every other to its own', () => {
    for (const at of [
      '/',
      '/clutches',
      '/clutches/c-03',
      '/clutches/new/review/x',
      '/probes',
      '/first-night/2',
    ]) {
      expect(nightRouteOf(at)).toBeNull();
    }
  });
});
