#!/bin/sh
# A program with one more type of battery, "newly", in its data, and nothing else changed, knows it
# wherever types are read, listed or explained. Its figures are those of "agm".
# one_more_battery.sh PROGRAM SITE
set -eu
export LC_ALL=C.UTF-8
program=$1
site=$2
failures=0

# says WORDS COMMAND...: what the command prints, results or messages, has the words.
says() {
  words=$1
  shift
  printed=$("$program" "$@" 2>&1) || :
  case $printed in
    *"$words"*) ;;
    *) failures=$((failures + 1)); printf 'amptally %s\n  does not say: %s\n' "$*" "$words" ;;
  esac
}

says '"newly"' explain battery.kind
says 'lithium iron phosphate, or newly made.' schema
says '"newly"' schema
says 'battery.kind=newly' complete budget --set battery.kind=n
says ' or newly. Floor:' new
says '(did you mean "newly"?)' budget "$site" --set battery.kind=newli
says '(did you mean "newly"?)' budget "$site" --set battery.kind=brand_new
says ' or "newly"' budget "$site" --set battery.kind=7
says ' newly made battery' budget "$site" --set battery.kind=newly
says 'A sealed lead battery can vent hydrogen' budget "$site" --set battery.kind=newly
says 'newly' sweep "$site" --vary battery.kind=agm,newly --format csv

figures() { "$program" budget "$site" --weather mean --set "battery.kind=$1" --format csv; }
if [ "$(figures newly)" != "$(figures agm)" ]; then
  failures=$((failures + 1))
  echo 'a year with it is not that of the type it has its figures from'
fi
exit "$failures"
