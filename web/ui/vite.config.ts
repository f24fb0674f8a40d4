import { svelte } from '@sveltejs/vite-plugin-svelte';
import { defineConfig } from 'vitest/config';

export default defineConfig({
  plugins: [svelte()],
  build: { target: 'es2022', assetsInlineLimit: 0, modulePreload: { polyfill: false }, cssCodeSplit: false },
  // Vitest would otherwise take the build of Svelte that renders on a server.
  resolve: { conditions: process.env.VITEST ? ['browser'] : undefined },
  test: { environment: 'happy-dom', include: ['src/**/*.test.ts'] },
});
