import { spawn, type ChildProcess } from 'node:child_process';
import { existsSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

import { test as base } from '@playwright/test';

import { freePort } from './free_port';

const binary =
  process.env['STILLROOM_BINARY'] ?? new URL('../../build/dev/src/cli/stillroom', import.meta.url).pathname;

/** The real program over a household file of its own. */
export class Program {
  address = '';
  readonly #file: string;
  readonly #port: number;
  #arguments: string[];
  #ahead = 0;
  #child: ChildProcess | null = null;

  constructor(folder: string, port: number, extra: string[]) {
    this.#file = join(folder, 'test.stillroom');
    this.#port = port;
    this.#arguments = extra;
  }

  async start(): Promise<void> {
    if (!existsSync(binary)) throw new Error(`The program is not built: ${binary}`);
    const child = spawn(binary, [
      'serve',
      '--household',
      this.#file,
      '--port',
      String(this.#port),
      ...this.#arguments,
    ]);
    this.#child = child;
    const address = await new Promise<string>((resolve, reject) => {
      let said = '';
      const hear = (data: Buffer): void => {
        said += data.toString();
        const found = /http:\/\/localhost:\d+/.exec(said);
        if (found) resolve(found[0]);
      };
      child.stdout?.on('data', hear);
      child.stderr?.on('data', hear);
      child.on('exit', (code) => reject(new Error(`The program ended with ${code}: ${said}`)));
    });
    // Pages that are open know the household by its address.
    const moved = this.address !== '' && address !== this.address;
    if (moved) throw new Error(`The program came back on ${address}, was on ${this.address}`);
    this.address = address;
  }

  /** Milliseconds by which the household's clock is ahead of this machine's. */
  get ahead(): number {
    return this.#ahead;
  }

  /** The household's clock moves on: the program is started anew with a later moment. */
  async later(minutes: number): Promise<void> {
    await this.stop();
    this.#ahead += minutes * 60_000;
    const at = new Date(Date.now() + this.#ahead).toISOString().slice(0, 19);
    this.#arguments = [
      ...this.#arguments.filter((one, i, all) => one !== '--at' && all[i - 1] !== '--at'),
      '--at',
      `${at}Z`,
    ];
    await this.start();
  }

  async stop(): Promise<void> {
    const child = this.#child;
    this.#child = null;
    if (!child || child.exitCode !== null) return;
    const ended = new Promise((resolve) => child.once('exit', resolve));
    child.kill('SIGTERM');
    await ended;
  }
}

/** Tests that get an empty household, or the demo one, each on a port of its own. */
export const test = base.extend<{ program: Program; demo: Program }>({
  program: async ({}, use) => withProgram([], use),
  demo: async ({}, use) => withProgram(['--demo'], use),
});

export async function withProgram(extra: string[], use: (program: Program) => Promise<void>): Promise<void> {
  const folder = mkdtempSync(join(tmpdir(), 'stillroom-'));
  const program = new Program(folder, await freePort(), extra);
  await program.start();
  await use(program);
  await program.stop();
  rmSync(folder, { recursive: true, force: true });
}

export { expect } from '@playwright/test';
