import { describe, expect, it } from 'vitest';
import { readingRouteOf } from './readingRoutes.tsx';
import { pageOf } from './route.ts';

describe('a path about probes and readings', () => {
  it('leads to its page', () => {
    expect(readingRouteOf('/probes/a%2Fb')).toEqual({ page: 'probe', key: 'a/b' });
    expect(readingRouteOf('/probes/hazel-high/calibrate')).toEqual({ page: 'calibrate', key: 'hazel-high' });
    expect(readingRouteOf('/incubators/hazel/run-in')).toEqual({ page: 'run-in', key: 'hazel' });
    expect(readingRouteOf('/keeping')).toEqual({ page: 'keeping' });
    expect(readingRouteOf('/new-incubator')).toEqual({ page: 'new incubator' });
    expect(readingRouteOf('/readings/import')).toEqual({ page: 'imports' });
    expect(readingRouteOf('/readings/import/6f1d')).toEqual({ page: 'import', key: '6f1d' });
    for (const at of ['/', '/probes', '/incubators/hazel', '/readings'])
      expect(readingRouteOf(at)).toBeNull();
  });

  it('leaves an incubator called New its address', () => {
    expect(pageOf('/incubators/new')).toEqual({ page: 'incubator', key: 'new' });
  });
});
