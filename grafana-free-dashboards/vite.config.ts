import preact from '@preact/preset-vite';
import { defineConfig } from 'vitest/config';
import { mockFacility } from './mock/plugin.ts';

// The build goes straight into the service's web root. Nothing is inlined as a data: address, because the
// service sends a policy under which only its own files may be loaded.
export default defineConfig(({ mode }) => ({
  plugins: [preact(), ...(mode === 'mock' ? [mockFacility()] : [])],
  build: {
    outDir: '../src/Incubation.Service/wwwroot',
    emptyOutDir: true,
    assetsInlineLimit: 0,
    target: 'es2022',
  },
  server: { proxy: mode === 'mock' ? {} : { '/api': 'http://localhost:5080' } },
  test: {
    environment: 'happy-dom',
    include: ['src/**/*.test.{ts,tsx}'],
    restoreMocks: true,
  },
}));
