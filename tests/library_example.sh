#!/bin/sh
# examples/library is built against an installed amptally, once by CMake and once by pkg-config, and
# both programs print what they should.
# library_example.sh INSTALLED SOURCE_DIR COMPILER [FLAG...]
set -eu
export LC_ALL=C.UTF-8
installed=$1
source=$2/examples/library
compiler=$3
shift 3
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT

# The same site as the example has, for the program: both must come to the same days.
cat >"$work/site.json" <<'SITE'
{ "format": "amptally-site/1",
  "place": { "latitude": 43.38, "longitude": -5.87 },
  "panel": { "power": "20 W", "tilt": "55 deg", "azimuth": "180 deg" },
  "regulator": { "kind": "pwm", "standby": "12 mA" },
  "battery": { "kind": "agm", "capacity": "7 Ah" },
  "loads": [{ "name": "pump", "draw": "1.2 A", "per_day": "20 min" }] }
SITE
verdict=$("$installed/bin/amptally" budget "$work/site.json" --weather mean --quiet)

# run_budget PROGRAM
run_budget() {
  printed=$("$1")
  days=$(printf '%s\n' "$printed" | sed -n 's/^Holds: .* \([0-9.]* days without sun\)$/\1/p')
  case $verdict in
    "Holds in a mean year: ${days:-no days} in "*) ;;
    *) printf 'the example: %s\nthe program: %s\n' "$printed" "$verdict"; exit 1 ;;
  esac
}

cmake -S "$source" -B "$work/cmake" -DCMAKE_PREFIX_PATH="$installed" \
  -DCMAKE_CXX_COMPILER="$compiler" -DCMAKE_CXX_FLAGS="$*"
cmake --build "$work/cmake"
run_budget "$work/cmake/budget"

if ! command -v pkg-config >/dev/null; then
  echo 'skipped: pkg-config is not installed'
  exit 77
fi
found=$(find "$installed" -name amptally.pc)
PKG_CONFIG_PATH=$(dirname "$found")
export PKG_CONFIG_PATH
# shellcheck disable=SC2046  # words, as pkg-config means them
"$compiler" "$@" $(pkg-config --cflags amptally) "$source/budget.cpp" \
  $(pkg-config --libs amptally) -o "$work/budget"
run_budget "$work/budget"
