#!/bin/sh
# Shards made side by side by GNU parallel (Debian package parallel), joined, are the single run byte
# for byte. Usage: sweep_parallel.sh PROGRAM; status 77 where there is no GNU parallel.
set -eu
export LC_ALL=C.UTF-8
export program="$1"
parallel --version 2>/dev/null | grep -q 'GNU parallel' || {
  echo 'skipped: GNU parallel is not installed'
  exit 77
}
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
# GNU parallel keeps its notes in the home folder.
export HOME="$work"

# The shells that parallel starts expand $program.
# shellcheck disable=SC2016
sweep='"$program" sweep --demo --quiet --years 1
  --vary battery.capacity="7..40 Ah:1" --vary regulator.kind=pwm,mppt'
# shellcheck disable=SC2016
drawn='"$program" sweep --demo --quiet --weather mean --random 40 --seed 3
  --vary battery.capacity="7..40 Ah" --vary panel.tilt=0..90'
for what in "$sweep" "$drawn"; do
  what=$(printf '%s' "$what" | tr '\n' ' ')
  for format in json csv; do
    sh -c "$what --format $format" >"$work/whole"
    seq 7 | parallel --keep-order --jobs 3 "$what --format $format --shard {}/7" >"$work/joined"
    [ -s "$work/whole" ]
    cmp "$work/whole" "$work/joined"
  done
done
