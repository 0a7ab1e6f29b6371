import { createHash } from 'node:crypto';
import { readFileSync } from 'node:fs';
import { gzipSync } from 'node:zlib';

import { transformWithOxc, type Plugin } from 'vite';
import { defineConfig } from 'vitest/config';

/** Writes sw.js: the build's own file list and a hash of its contents, in front of src/sw.ts. */
function serviceWorker(): Plugin {
  return {
    name: 'service-worker',
    apply: 'build',
    enforce: 'post',
    async generateBundle(_options, bundle) {
      const hash = createHash('sha256');
      const files = Object.keys(bundle).sort();
      for (const name of files) {
        const file = bundle[name];
        hash.update(name).update(file?.type === 'chunk' ? file.code : (file?.source ?? ''));
      }
      const source = readFileSync(new URL('src/sw.ts', import.meta.url), 'utf8');
      const { code } = await transformWithOxc(source, 'sw.ts', {});
      hash.update(code);
      const kept = files.filter((name) => name !== 'index.html').map((name) => `/${name}`);
      const list = JSON.stringify(['/', '/manifest.webmanifest', '/icon.svg', ...kept]);
      const version = JSON.stringify(hash.digest('hex').slice(0, 16));
      const head = `const kFiles = ${list};\nconst kVersion = ${version};\n`;
      this.emitFile({ type: 'asset', fileName: 'sw.js', source: head + code });
    },
  };
}

/** All scripts together, compressed: a phone in the cellar loads them once and slowly. */
const kScriptBytes = 60_000;

/** Stops the build when the scripts have grown too large. */
function keptSmall(): Plugin {
  return {
    name: 'kept-small',
    apply: 'build',
    enforce: 'post',
    generateBundle(_options, bundle) {
      let bytes = 0;
      for (const file of Object.values(bundle)) {
        if (file.type === 'chunk') bytes += gzipSync(file.code).length;
        else if (file.fileName.endsWith('.js')) bytes += gzipSync(file.source).length;
      }
      if (bytes > kScriptBytes) this.error(`The scripts are ${bytes} bytes compressed; ${kScriptBytes} is the most.`);
    },
  };
}

export default defineConfig({
  plugins: [serviceWorker(), keptSmall()],
  oxc: { jsx: { runtime: 'automatic', importSource: 'preact' } },
  build: { outDir: 'dist', assetsInlineLimit: 0, sourcemap: false, modulePreload: { polyfill: false } },
  test: { include: ['src/**/*.test.ts'], setupFiles: ['tests/setup.ts'] },
  // `npm run dev` and `npx vite preview` show pages before the program is built again, over a program that runs.
  server: { proxy: { '/api': 'http://127.0.0.1:8137' } },
  preview: { proxy: { '/api': 'http://127.0.0.1:8137' } },
});
