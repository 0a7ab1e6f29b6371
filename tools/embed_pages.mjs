// embed_pages.mjs DIST OUT: writes every file of DIST raw, gzipped and in brotli into OUT, an assembler file that takes
// them in (.incbin: no copy through the compiler) and a C++ table of them (src/service/pages.h). Run by the build.
import { createHash } from 'node:crypto';
import { mkdirSync, readFileSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { join, relative, resolve } from 'node:path';
import { brotliCompressSync, constants, gzipSync } from 'node:zlib';

const [dist, out] = process.argv.slice(2).map((path) => resolve(path));
const types = {
  html: 'text/html; charset=utf-8',
  js: 'text/javascript; charset=utf-8',
  css: 'text/css; charset=utf-8',
  svg: 'image/svg+xml',
  woff2: 'font/woff2',
  webmanifest: 'application/manifest+json',
};

const filesIn = (folder) =>
  readdirSync(folder, { withFileTypes: true }).flatMap((entry) =>
    entry.isDirectory() ? filesIn(join(folder, entry.name)) : [join(folder, entry.name)],
  );

rmSync(join(out, 'pages'), { recursive: true, force: true });
mkdirSync(join(out, 'pages'), { recursive: true });
const assembly = ['.section .rodata'];
const externs = [];
const rows = [];

filesIn(dist)
  .sort()
  .forEach((file, n) => {
    const bytes = readFileSync(file);
    const name = relative(dist, file);
    const brotli = brotliCompressSync(bytes, {
      params: { [constants.BROTLI_PARAM_QUALITY]: 11, [constants.BROTLI_PARAM_SIZE_HINT]: bytes.length },
    });
    const forms = { raw: bytes, gzip: gzipSync(bytes, { level: 9 }), brotli };
    const views = Object.entries(forms).map(([form, data]) => {
      if (form !== 'raw' && data.length >= bytes.length) return '{}';
      const path = join(out, 'pages', `${n}.${form}`);
      const symbol = `stillroom_page_${n}_${form}`;
      writeFileSync(path, data);
      assembly.push(`.global ${symbol}`, `${symbol}:`, `.incbin "${path}"`);
      externs.push(`extern const char ${symbol}[];`);
      return `{${symbol}, ${data.length}}`;
    });
    const type = types[name.split('.').pop()] ?? 'application/octet-stream';
    const etag = createHash('sha256').update(bytes).digest('hex').slice(0, 16);
    const path = name === 'index.html' ? '/' : `/${name}`;
    const immutable = name.startsWith('assets/');
    rows.push(`    {"${path}", "${type}", "\\"${etag}\\"", ${immutable}, ${views.join(', ')}},`);
  });

assembly.push('.section .note.GNU-stack,"",%progbits', '');
writeFileSync(join(out, 'pages.S'), assembly.join('\n'));
writeFileSync(
  join(out, 'page_table.cpp'),
  `// Made by tools/embed_pages.mjs.
#include "service/detail/page_table.h"

#include <array>

extern "C" {
${externs.join('\n')}
}

namespace stillroom::service::detail {

std::span<const PageFile> page_table() {
  static const std::array<PageFile, ${rows.length}> kFiles{{
${rows.join('\n')}
  }};
  return kFiles;
}

}  // namespace stillroom::service::detail
`,
);
