#!/bin/sh
# Two builds of the program give the same bytes and the same exit status: for every example, and for a
# sweep over each.
# same_results.sh PROGRAM OTHER_PROGRAM SOURCE_DIR
set -eu
export LC_ALL=C.UTF-8
cd "$3"
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT

# compare WORDS...: runs both.
compare() {
  for n in 1 2; do
    status=0
    if [ "$n" -eq 1 ]; then program=$one; else program=$other; fi
    "$program" "$@" >"$results/$n" 2>&1 || status=$?
    [ "$status" -le 2 ] || { echo "status $status of: amptally $*"; return 1; }
    echo "exit status $status" >>"$results/$n"
  done
  cmp "$results/1" "$results/2" || { echo "differ in: amptally $*"; return 1; }
  echo "the same: amptally $*"
}

# compare_site SITE: what the program can tell of it.
compare_site() {
  failures=0
  for command in budget sun check water wiring; do
    compare "$command" "$1" --format json || failures=$((failures + 1))
  done
  for command in size levers; do
    compare "$command" "$1" --years 2 --format json || failures=$((failures + 1))
  done
  compare report "$1" --weather mean || failures=$((failures + 1))
  compare sweep "$1" --quiet --years 3 --random 200 --vary panel.power=5..400 \
    --vary battery.capacity=5..200 --vary panel.tilt=20,50 || failures=$((failures + 1))
  [ "$failures" -eq 0 ]
}

one=$1
other=$2
sites=$(grep -l '"amptally-site/1"' examples/*.json)
failed=
started=0
for site in $sites; do
  results=$work/$(basename "$site" .json)
  mkdir "$results"
  (compare_site "$site" >"$results/log" 2>&1 || touch "$results/failed") &
  started=$((started + 1))
  [ $((started % $(nproc))) -ne 0 ] || wait
done
wait
for site in $sites; do
  results=$work/$(basename "$site" .json)
  cat "$results/log"
  [ ! -e "$results/failed" ] || failed=yes
done
[ -z "$failed" ] && [ "$started" -gt 0 ]
