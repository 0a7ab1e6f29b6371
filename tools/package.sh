#!/usr/bin/env bash
# tools/package.sh: builds the release program and packs it into build/package/stillroom_VERSION_ARCH.deb, then looks
# whether everything is in it.
set -euo pipefail
source "$(dirname "$0")/steps.sh"

cmake --preset release
ninja -C build/release -j "$jobs" stillroom
rm -rf build/package
cpack --config build/release/CPackConfig.cmake -B build/package
package=$(ls build/package/stillroom_*.deb)
files=$(dpkg-deb --contents "$package")
for path in usr/bin/stillroom usr/share/doc/stillroom/copyright usr/share/doc/stillroom/README.md \
  usr/lib/systemd/user/stillroom.service; do
  grep -q " \./$path$" <<<"$files" || { echo "$path is not in $package" >&2; exit 1; }
done
dpkg-deb --field "$package" Depends
ls -l "$package"
