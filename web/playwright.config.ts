import { execSync } from 'node:child_process';

import { defineConfig, devices } from '@playwright/test';

import { freePort } from './tests/free_port';

const chromium = execSync('command -v chromium').toString().trim();
// Workers read this file too: they are told the port that was found first.
const pagesPort = Number((process.env['STILLROOM_PAGES_PORT'] ??= String(await freePort())));

/** Two kinds of browser tests: pages against fixtures (how they look), and the real program (what they do). */
export default defineConfig({
  testDir: 'tests',
  testMatch: '*.spec.ts',
  outputDir: 'test-results',
  workers: 1,
  timeout: 180_000,
  expect: { timeout: 45_000 },
  reporter: [['list'], ['./tests/brief.ts']],
  use: {
    locale: 'en-US',
    timezoneId: 'America/Chicago',
    launchOptions: {
      executablePath: chromium,
      args: [
        '--no-sandbox',
        '--disable-gpu',
        '--disable-quic',
        '--no-first-run',
        '--disable-background-networking',
        '--disable-component-update',
        '--disable-sync',
      ],
    },
  },
  projects: [
    {
      name: 'pages',
      testMatch: ['pages.spec.ts', 'hands.spec.ts'],
      use: { ...devices['Pixel 7'], baseURL: `http://localhost:${pagesPort}`, serviceWorkers: 'block' },
    },
    { name: 'household', testIgnore: ['pages.spec.ts', 'hands.spec.ts'], use: devices['Pixel 7'] },
  ],
  webServer: { command: `npx vite preview --port ${pagesPort} --strictPort`, port: pagesPort },
});
