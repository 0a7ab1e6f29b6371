// Measures what a person waits for, against the budgets of docs/testing.md: npm run budgets, with the optimised program
// built (ninja -C build/release stillroom). Prints medians and worst of nine; it is no test and fails nothing.
import { execSync, spawn } from 'node:child_process';

import { chromium, devices } from '@playwright/test';

const kRounds = 9;
const kPort = 8397;
const kSlower = 4;
const binary =
  process.env.STILLROOM_BINARY ?? new URL('../../build/release/src/cli/stillroom', import.meta.url).pathname;

const program = spawn(binary, ['serve', '--demo', '--port', String(kPort)]);
const address = await new Promise((resolve) => {
  program.stdout.on('data', (data) => resolve(/http:\/\/localhost:\d+/.exec(data)[0])); // the next port when it is taken
});

const browser = await chromium.launch({
  executablePath: execSync('command -v chromium').toString().trim(),
  args: ['--no-sandbox', '--disable-gpu'],
});
const context = await browser.newContext(devices['Pixel 7']);
await context.addInitScript(() => {
  new MutationObserver((_, watching) => {
    if (!document.querySelector('.next-title')) return;
    watching.disconnect();
    window.drawnAt = performance.now();
    // The main thread has time for a tap again.
    requestAnimationFrame(() => setTimeout(() => (window.readyAt = performance.now())));
  }).observe(document, { childList: true, subtree: true });
});
const page = await context.newPage();
await page.goto(address);
await page.waitForSelector('.next-title');
await page.evaluate(() => navigator.serviceWorker.ready.then(() => undefined));
await page.reload();
await page.waitForTimeout(3_000); // the looks are kept, the plan is made

async function opened() {
  await page.goto(address);
  await page.waitForFunction(() => window.readyAt !== undefined);
  return page.evaluate(() => ({
    paint: performance.getEntriesByName('first-contentful-paint')[0]?.startTime ?? NaN,
    drawn: window.drawnAt,
    ready: window.readyAt,
  }));
}
async function tapped() {
  return page.evaluate(
    () =>
      new Promise((resolve) => {
        const from = performance.now();
        new MutationObserver((_, watching) => {
          watching.disconnect();
          requestAnimationFrame(() => setTimeout(() => resolve(performance.now() - from)));
        }).observe(document.querySelector('.pack .count'), { childList: true, characterData: true, subtree: true });
        document.querySelector('.pack .take').click();
      }),
  );
}
function say(what, budget, took) {
  const sorted = took.toSorted ? took.toSorted((a, b) => a - b) : [...took].sort((a, b) => a - b);
  const [middle, worst] = [sorted[Math.floor(sorted.length / 2)], sorted.at(-1)].map(Math.round);
  console.log(
    `${what.padEnd(52)} ${String(middle).padStart(5)} ms, worst ${String(worst).padStart(5)} (budget ${budget})`,
  );
}
const times = async (measure) => {
  const took = [];
  for (let n = 0; n < kRounds; n += 1) took.push(await measure());
  return took;
};

const here = await times(opened);
say(
  'first paint from cache',
  300,
  here.map((one) => one.paint),
);
say(
  'what comes first is drawn, from cache',
  300,
  here.map((one) => one.drawn),
);
const devtools = await context.newCDPSession(page);
await devtools.send('Emulation.setCPUThrottlingRate', { rate: kSlower });
const slow = await times(opened);
say(
  `day page takes taps, processor ${kSlower} times slower`,
  1000,
  slow.map((one) => one.ready),
);
await page.goto(`${address}/larder`);
await page.waitForSelector('.pack .take');
await page.waitForTimeout(1_500);
const kTaps = 4; // fewer than the first pack holds
const taps = [];
for (let n = 0; n < kTaps; n += 1) taps.push(await tapped());
say(`a tap to its effect, processor ${kSlower} times slower`, 100, taps);

await browser.close();
program.kill();
