#!/bin/sh
# The Debian packages of a build: lintian has no complaint, everything lies where Debian looks for it,
# and what is in them works.
# packages.sh BUILD_DIR SOURCE_DIR
set -eu
export LC_ALL=C.UTF-8
for tool in cpack dpkg-deb lintian; do
  command -v "$tool" >/dev/null || {
    echo "skipped: $tool is not installed"
    exit 77
  }
done
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT

cpack --config "$1/CPackConfig.cmake" -B "$work"
lintian --fail-on error,warning "$work"/*.deb
for package in "$work"/*.deb; do dpkg-deb -x "$package" "$work/root"; done

failures=0
for path in \
  bin/amptally \
  share/man/man1/amptally.1.gz \
  share/bash-completion/completions/amptally \
  share/zsh/vendor-completions/_amptally \
  share/fish/vendor_completions.d/amptally.fish \
  share/doc/amptally/README.md \
  share/doc/amptally/docs/model.md \
  share/doc/amptally/data/README.md \
  share/doc/amptally/examples/terrace.json \
  share/doc/amptally/changelog.gz \
  share/doc/amptally/copyright \
  share/doc/libamptally-dev/copyright \
  share/doc/libamptally-dev/examples/library/budget.cpp \
  include/amptally/balance.hpp; do
  if [ ! -e "$work/root/usr/$path" ]; then
    failures=$((failures + 1))
    echo "no package has $path"
  fi
done
[ "$failures" -eq 0 ]

"$work/root/usr/bin/amptally" budget "$work/root/usr/share/doc/amptally/examples/terrace.json" --quiet ||
  [ "$?" -eq 1 ]
"$2/tests/library_example.sh" "$work/root/usr" "$2" c++
