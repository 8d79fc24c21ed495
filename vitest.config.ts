import { defineConfig } from 'vitest/config';

// Unit tests stand beside the code; whole-program tests (on the build, with outside programs) in test/.
export default defineConfig({
  test: {
    projects: [
      { test: { name: 'unit', include: ['src/**/*.test.ts'], testTimeout: 60_000, hookTimeout: 60_000 } },
      { test: { name: 'whole', include: ['test/**/*.test.ts'], testTimeout: 240_000, hookTimeout: 240_000 } },
    ],
  },
});
