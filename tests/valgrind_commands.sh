#!/bin/sh
# Each command once under valgrind: no read of what was never written, nothing past an end, no leak.
# valgrind_commands.sh PROGRAM SOURCE_DIR
set -u
export LC_ALL=C.UTF-8
command -v valgrind >/dev/null || {
  echo 'skipped: valgrind is not installed'
  exit 77
}
program=$1
cd "$2/examples" || exit 1
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
failures=0

# clean COMMAND...: runs it; its status may say that the aim is missed.
clean() {
  valgrind --quiet --error-exitcode=99 --leak-check=full --errors-for-leak-kinds=definite,indirect \
    "$program" "$@" >"$work/out" 2>"$work/err"
  status=$?
  [ "$status" -le 1 ] && return
  failures=$((failures + 1))
  printf 'FAILED: amptally %s: status %s\n' "$*" "$status"
  tail -n 40 "$work/err"
}

site=terrace.json
clean budget "$site" --years 2 --weather synthetic --daily
clean budget cold-frame.json --weather mean --format json
clean size "$site" --years 2
clean size "$site" --years 1 --parts parts.json
clean fit "$site" --years 2 --load 'valve: 300 mA, 20 min/day at 06:30'
clean levers "$site" --years 2
clean sweep "$site" --years 2 --from combinations.csv
clean sweep "$site" --weather mean --random 40 --vary panel.power=20..100 --vary battery.capacity=7..40
clean sun "$site" --tilts
clean water "$site"
clean wiring "$site"
clean check "$site"
clean places --near 43,-5
clean explain battery
clean new
clean schema
clean report "$site" --weather mean -o "$work/page.html"
clean --help

# What is refused is read with as much care.
for wrong in ../tests/bad/two_mistakes.json ../tests/bad/zero_byte.json ../tests/bad/depth_65.json; do
  valgrind --quiet --error-exitcode=99 --leak-check=full "$program" check "$wrong" >"$work/out" 2>"$work/err"
  status=$?
  if [ "$status" -ne 2 ]; then
    failures=$((failures + 1))
    printf 'FAILED: amptally check %s: status %s\n' "$wrong" "$status"
    tail -n 40 "$work/err"
  fi
done
[ "$failures" -eq 0 ]
