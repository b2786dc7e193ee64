# Shared by examples/run and tests/run, which read it in from the project's root. POSIX sh.
# shellcheck shell=sh

say() { printf '%s\n' "$*" >&2; }

# need_packages NAME...: installs what is missing of the Debian packages that the build needs, and of
# those named.
need_packages() {
  missing=
  for package in g++ cmake ninja-build libcli11-dev libfmt-dev nlohmann-json3-dev "$@"; do
    status=$(dpkg-query -W -f '${db:Status-Status}' "$package" 2>/dev/null) || status=
    [ "$status" = installed ] || missing="$missing $package"
  done
  [ -n "$missing" ] || return 0

  as_root=
  [ "$(id -u)" -eq 0 ] || as_root=sudo
  if ! command -v apt-get >/dev/null || { [ -n "$as_root" ] && ! command -v sudo >/dev/null; }; then
    say "Please install what these Debian packages hold, then run this again:$missing"
    exit 2
  fi
  say "Installing:$missing"
  quietly $as_root apt-get update
  # shellcheck disable=SC2086  # a list of words
  quietly $as_root env DEBIAN_FRONTEND=noninteractive \
    apt-get install --yes --no-install-recommends $missing
}

# quietly COMMAND...: runs it without a word; stops, showing what it said, if it fails.
quietly() {
  log=$(mktemp)
  if "$@" >"$log" 2>&1; then
    rm -f "$log"
  else
    cat "$log" >&2
    rm -f "$log"
    say "Failed: $*"
    exit 2
  fi
}

# configure_and_build PRESET [TARGET...]: with ninja where there is one, else with make.
configure_and_build() {
  preset=$1
  shift
  if command -v ninja >/dev/null; then
    CMAKE_GENERATOR=Ninja
  else
    CMAKE_GENERATOR='Unix Makefiles'
  fi
  export CMAKE_GENERATOR
  cmake --preset "$preset" &&
    cmake --build --preset "$preset" --parallel "$(nproc)" ${1:+--target "$@"}
}
