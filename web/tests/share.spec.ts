import { execFileSync } from 'node:child_process';
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

import { chromium, type Browser, type BrowserContext, type LaunchOptions } from '@playwright/test';

import { expectAccessible } from './axe';
import { freePort } from './free_port';
import { expect, Program, test as base } from './serve';
import { settled } from './settled';
import { t } from '../src/shared/texts';

const kPassphrase = 'eleven quiet lanterns';
interface Shared {
  program: Program;
  /** Where devices of the home network find it. */
  home: string;
  /** A phone: a browser with a home folder of its own, which trusts the household or does not. */
  phone: (trusting: boolean) => Promise<BrowserContext>;
}

const test = base.extend<{ shared: Shared }>({
  shared: async ({ launchOptions }, use) => {
    const folder = mkdtempSync(join(tmpdir(), 'stillroom-'));
    const passphrase = join(folder, 'passphrase.txt');
    writeFileSync(passphrase, `${kPassphrase}\n`);
    const tls = await freePort();
    const sharing = ['--share', '--passphrase-file', passphrase, '--share-port', String(tls), '--plain-port', '0'];
    const program = new Program(folder, await freePort(), sharing);
    await program.start();
    await settled(program.address);
    const browsers: Browser[] = [];
    const phone = async (trusting: boolean): Promise<BrowserContext> => {
      const browser = await launch(
        mkdtempSync(join(folder, 'phone-')),
        launchOptions,
        trusting ? program.address : '',
      );
      browsers.push(browser);
      return browser.newContext({ viewport: { width: 390, height: 844 }, locale: 'en-US' });
    };
    await use({ program, home: `https://127.0.0.1:${tls}`, phone });
    for (const browser of browsers) await browser.close();
    await program.stop();
    rmSync(folder, { recursive: true, force: true });
  },
});

async function launch(home: string, options: LaunchOptions, trusts: string): Promise<Browser> {
  if (trusts !== '') {
    const answer = await fetch(`${trusts}/ca.crt`);
    expect(answer.ok).toBe(true);
    const certificate = join(home, 'ca.crt');
    writeFileSync(certificate, Buffer.from(await answer.arrayBuffer()));
    const store = join(home, '.pki', 'nssdb');
    mkdirSync(store, { recursive: true });
    execFileSync('certutil', ['-d', `sql:${store}`, '-N', '--empty-password']);
    execFileSync('certutil', ['-d', `sql:${store}`, '-A', '-t', 'C,,', '-n', 'household', '-i', certificate]);
  }
  return chromium.launch({ ...options, env: { ...process.env, HOME: home } as Record<string, string> });
}

async function paired(shared: Shared, context: BrowserContext) {
  const page = await context.newPage();
  await page.goto(shared.home);
  await expect(page).toHaveURL(`${shared.home}/pair`);
  await page.getByLabel(t.pair.name).fill('Kitchen phone');
  await page.getByLabel(t.pair.secret, { exact: true }).fill(kPassphrase);
  await page.getByRole('button', { name: t.pair.button }).click();
  await expect(page).toHaveURL(`${shared.home}/`);
  await expect(page.getByText('Nothing is waiting to be put by.')).toBeVisible();
  return page;
}

test('a phone that trusts the household pairs, and opens its pages without a signal', async ({ shared }) => {
  const context = await shared.phone(true);
  const page = await paired(shared, context);
  expect(await page.evaluate(() => isSecureContext)).toBe(true);
  await page.evaluate(() => navigator.serviceWorker.ready.then(() => undefined));
  await page.reload();
  await expect.poll(() => page.evaluate(() => navigator.serviceWorker.controller !== null)).toBe(true);
  await context.setOffline(true);
  await shared.program.stop();
  await page.goto(`${shared.home}/bring-in`);
  await expect(page.getByRole('heading', { name: 'Bring in' })).toBeVisible();
  await expect(page.getByText('No connection.')).toBeVisible();
});

test('a phone without the certificate is warned, and no page opens', async ({ shared }) => {
  const page = await (await shared.phone(false)).newPage();
  await expect(page.goto(shared.home)).rejects.toThrow(/ERR_CERT_AUTHORITY_INVALID/);
});

test('a device that is withdrawn is led to the pairing page', async ({ shared, page: computer }) => {
  const page = await paired(shared, await shared.phone(true));
  await computer.goto(`${shared.program.address}/devices`);
  const line = computer.locator('.device-line', { hasText: 'Kitchen phone' });
  await line.getByRole('button').click();
  await line.getByRole('button').first().click();
  await expect(line).toBeHidden();
  await page.reload();
  await expect(page).toHaveURL(`${shared.home}/pair`);
  await expect(page.getByRole('heading', { name: t.pair.title })).toBeVisible();
});

test('setting up and pairing are accessible', async ({ shared, page: computer }) => {
  await computer.setViewportSize({ width: 390, height: 844 });
  await computer.goto(`${shared.program.address}/devices`);
  await expect(computer.getByRole('button', { name: t.devices.showCode })).toBeVisible();
  await expectAccessible(computer, 'devices');
  const page = await (await shared.phone(true)).newPage();
  await page.goto(`${shared.home}/pair`);
  await expect(page.getByRole('button', { name: t.pair.button })).toBeVisible();
  await expectAccessible(page, 'pair');
});
