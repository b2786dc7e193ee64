#!/bin/sh
# The hourly step in other languages comes to the kernel's result: batteries and shortfall after
# January, of ten designs. numpy is left out where it is not installed.
# same_step_test.sh SAME_STEP_CASE SOURCE_DIR
set -eu
export LC_ALL=C.UTF-8
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
scripts=$2/tests/bench
days=30
failures=0

# same NAME RESULT EXPECTED: whether two pairs of figures agree to 1e-9 of each, neither being 0.
same() {
  if printf '%s %s\n' "$2" "$3" | awk '
    function near(a, b) { return b > 0 && a - b <= 1e-9 * b && b - a <= 1e-9 * b }
    { exit !(NF == 4 && near($1, $3) && near($2, $4)) }'; then
    echo "same result: $1"
  else
    failures=$((failures + 1))
    echo "$1 gives $2, the kernel $3"
  fi
}

for kind in lead lithium; do
  expected=$("$1" "$work/input" 10 "$days" "$kind")
  same "$kind, python" "$(/usr/bin/python3 "$scripts/same_step.py" "$work/input" "$days")" "$expected"
  same "$kind, awk" "$(awk -f "$scripts/same_step.awk" -v days="$days" "$work/input")" "$expected"
  if /usr/bin/python3 -c 'import numpy' 2>"$work/log"; then
    same "$kind, numpy" "$(/usr/bin/python3 "$scripts/same_step_numpy.py" "$work/input" "$days")" "$expected"
  else
    echo 'skipped: numpy is not installed'
  fi
done
[ "$failures" -eq 0 ]
