#!/bin/sh
# docs/dependencies.spdx names what docs/dependencies.md does, with the licences that the Debian
# packages' own copyright files give, and every file of data/.
# dependencies.sh SOURCE_DIR
set -eu
export LC_ALL=C.UTF-8
cd "$1"
failures=0
fail() { failures=$((failures + 1)); printf '%s\n' "$*"; }

# Rows of the table of packages: name, Debian package, licence.
rows=$(awk -F ' *[|] *' '/^[|] package / { open = 1; next } !/^[|]/ { open = 0 }
  open && !/---/ { sub(/ >=.*/, "", $2); print $2, $3, $4 }' docs/dependencies.md)
# The same of the document: a record begins with PackageName.
packages=$(awk '
  function tell() { if (debian != "") print name, debian, licence; debian = "" }
  /^PackageName: / { tell(); name = $2 }
  /^ExternalRef: .* pkg:deb/ { debian = $NF; sub(/.*\//, "", debian) }
  /^PackageLicenseDeclared: / { licence = $2 }
  END { tell() }' docs/dependencies.spdx)
[ "$rows" = "$packages" ] || fail "docs/dependencies.md has:
$rows
docs/dependencies.spdx has:
$packages"
[ "$(printf '%s\n' "$rows" | wc -l)" -ge 4 ] || fail 'fewer than four packages'

# Debian's short names of licences.
spdx_name() {
  case $1 in
    Expat*) echo MIT ;;
    BSD-3-clause) echo BSD-3-Clause ;;
    Boost-1.0) echo BSL-1.0 ;;
    *) echo "$1" ;;
  esac
}
while read -r name debian licence; do
  notice=/usr/share/doc/$debian/copyright
  [ -e "$notice" ] || continue
  declared=$(awk '/^Files: \*/ { open = 1 } open && /^License: / { sub(/^License: /, ""); print; exit }' "$notice")
  [ "$(spdx_name "$declared")" = "$licence" ] || fail "$name: $notice says $declared, not $licence"
done <<ROWS
$rows
ROWS

for file in data/*.csv data/*.json; do
  sum=$(sha256sum "$file" | cut -d ' ' -f 1)
  grep -A 4 -Fx "PackageName: $file" docs/dependencies.spdx |
    grep -qFx "PackageChecksum: SHA256: $sum" ||
    fail "docs/dependencies.spdx lacks $file with PackageChecksum: SHA256: $sum"
done
version=$(sed -n 's/^  VERSION \(.*\)/\1/p' CMakeLists.txt)
grep -A 2 -Fx 'PackageName: amptally' docs/dependencies.spdx | grep -qFx "PackageVersion: $version" ||
  fail "docs/dependencies.spdx is not of version $version"
[ "$failures" -eq 0 ]
