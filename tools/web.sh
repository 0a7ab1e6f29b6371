#!/usr/bin/env bash
# tools/web.sh [build|test|browser]: the pages. Installs node_modules when package-lock.json has changed; `build` writes
# web/dist, which the service embeds.
set -euo pipefail
cd "$(dirname "$0")/.."
source tools/node.sh
use_node
cd web
export PLAYWRIGHT_SKIP_BROWSER_DOWNLOAD=1

stamp=node_modules/.installed_from
if ! cmp -s package-lock.json "$stamp"; then
  npm ci --no-audit --no-fund </dev/null
  cp package-lock.json "$stamp"
fi
case "${1:-build}" in
  build) npm run --silent build ;;
  test) npm test --silent ;;
  browser) npm run --silent test:browser ;;
  *) echo "tools/web.sh: build, test or browser" >&2; exit 2 ;;
esac
