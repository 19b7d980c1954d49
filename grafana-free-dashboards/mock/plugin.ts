import type { Plugin } from 'vite';
export function mockFacility(): Plugin {
  return { name: 'mock-facility' };
}
