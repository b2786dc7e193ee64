#!/bin/sh
# What only a real process shows: pipes, full devices, files in the way, terminals.
# Usage: tests/cli/streams.sh PROGRAM
set -u
export LC_ALL=C.UTF-8
program=$1
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
failures=0

# expect WHAT GIVEN WANTED
expect() {
  [ "$2" = "$3" ] && return
  failures=$((failures + 1))
  printf 'FAILED: %s\n  got:    %s\n  wanted: %s\n' "$1" "$2" "$3"
}

# expect_in WHAT TEXT PART
expect_in() {
  case $2 in
    *"$3"*) ;;
    *) expect "$1" "$2" "... $3 ..." ;;
  esac
}

"$program" new >"$work/site.json" || exit 1

# A reader that leaves early is no fault.
said=$({ "$program" budget --demo --daily | head -n 1 >/dev/null; } 2>&1)
expect 'a closed pipe is passed over in silence' "$said" ''
said=$({ (trap '' PIPE; "$program" budget --demo --daily) | true; } 2>&1)
expect 'a closed pipe is passed over in silence where SIGPIPE is ignored' "$said" ''

# A full device is.
if [ -e /dev/full ]; then
  said=$("$program" budget --demo 2>&1 >/dev/full)
  expect 'a full standard output is status 4' "$?" 4
  expect_in 'and says why' "$said" 'amptally: cannot write standard output: No space left'
  said=$("$program" --version 2>&1 >/dev/full)
  expect 'a full standard output is status 4 for a short text too' "$?" 4
  said=$("$program" budget --demo -o /dev/full 2>&1)
  expect 'a full device named by -o is status 4' "$?" 4
  expect_in 'and says why' "$said" 'amptally: cannot write /dev/full: No space left'
else
  echo 'skipped: there is no /dev/full here'
fi
said=$("$program" --version 2>&1 >&-)
expect 'a closed standard output is status 4' "$?" 4

# Files: whole or not at all.
said=$("$program" new -o "$work/no/such/folder/site.json" 2>&1)
expect 'a missing folder is status 4' "$?" 4
expect_in 'and says why' "$said" 'No such file or directory'

printf 'old\n' >"$work/kept.json"
# Past the limit a write fails, as on a full disk. The messages go through a pipe: it has no limit.
{ (trap '' XFSZ; ulimit -f 0; "$program" budget --demo -o "$work/kept.json" 2>&1
   printf 'status %s' "$?") | cat; } >"$work/said"
expect_in 'a write that fails half way is status 4' "$(cat "$work/said")" 'status 4'
expect 'the old file is as it was' "$(cat "$work/kept.json")" old
expect 'no part of the new one is left' "$(find "$work" -name '.amptally*')" ''

(umask 027; "$program" new -o "$work/fresh.json")
expect 'a new file has the permissions the shell gives' "$(stat -c %a "$work/fresh.json")" 640

mkfifo "$work/fifo"
cat "$work/fifo" >"$work/received" &
"$program" new -o "$work/fifo"
wait "$!"
expect 'a named pipe is written through' "$(cat "$work/received")" "$("$program" new)"

# Input.
"$program" check - <"$work/site.json" >/dev/null
expect '- reads standard input' "$?" 0
said=$("$program" check "$work" 2>&1)
expect 'a folder is no site' "$?" 2
expect_in 'and is named' "$said" "amptally: $work"

# Terminals. script(1) gives the program one, where the system has any to give.
if script -qec true /dev/null >/dev/null 2>&1 </dev/null; then
  # on_terminal COLUMNS [NAME=VALUE...]: the demonstration as a terminal of that width shows it
  on_terminal() {
    columns=$1
    shift
    env TERM=xterm COLUMNS="$columns" "$@" \
      script -qec "'$program' budget --demo" /dev/null </dev/null | tr -d '\r'
  }
  escape=$(printf '\033')
  expect_in 'a terminal gets colour' "$(on_terminal 80)" "${escape}[1;"
  for refusal in NO_COLOR=1 TERM=dumb; do
    case $(on_terminal 80 "$refusal") in
      *"$escape"*) expect "$refusal refuses colour" colour none ;;
    esac
  done
  on_terminal 80 NO_COLOR= >"$work/said"
  expect_in 'an empty NO_COLOR refuses nothing' "$(cat "$work/said")" "${escape}[1;"
  widest=$(on_terminal 50 NO_COLOR=1 | sed -n 's/^  \([^ ]\)/\1/p' | wc -L)
  expect 'findings keep to a narrow terminal' "$([ "$widest" -le 48 ] && echo yes)" yes
  expect_in 'a terminal gets a drawing' "$(on_terminal 80 NO_COLOR=1)" ' floor 50 %'
  expect 'the C locale gets ASCII alone' \
    "$(on_terminal 80 LC_ALL=C | LC_ALL=C tr -d '\001-\177' | wc -c)" 0
else
  echo 'skipped: script(1) makes no terminal here'
fi

[ "$failures" -eq 0 ]
