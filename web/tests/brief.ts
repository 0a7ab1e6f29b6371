import type { Reporter, TestCase, TestResult } from '@playwright/test/reporter';

const kLines = 12;
const kColours = new RegExp(`${String.fromCharCode(27)}\\[[0-9;]*m`, 'g');

/** After everything else: what each failed test said first, and where, for whoever sees only the log's end. */
export default class Brief implements Reporter {
  readonly #failed: string[] = [];

  onTestEnd(test: TestCase, result: TestResult): void {
    if (result.status === test.expectedStatus || result.status === 'skipped') return;
    const { error } = result;
    const message = (error?.message ?? error?.value ?? result.status).replaceAll(kColours, '');
    const lines = message.split('\n').filter((line) => line.trim() !== '');
    const at = error?.location ? `${error.location.file.split('/').pop() ?? ''}:${error.location.line}` : '';
    this.#failed.push([`${test.title} (${at}, ${result.duration} ms)`, ...lines.slice(0, kLines)].join('\n      '));
  }

  onEnd(): void {
    if (this.#failed.length > 0) process.stdout.write(`\nwhat failed first:\n    ${this.#failed.join('\n    ')}\n`);
  }

  printsToStdio(): boolean {
    return false;
  }
}
