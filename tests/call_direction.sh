#!/bin/sh
# What the rooms' objects call runs one way, as their includes do: no object asks for a symbol that only
# a later room defines. A call through a public header is one like any other.
#
# call_direction.sh NM ROOM=OBJECTS ...: the rooms from first to last; OBJECTS are files, parted by ';'.
set -eu
export LC_ALL=C
nm=$1
shift
for room; do
  printf '%s\n' "${room#*=}" | tr ';' '\n' | while IFS= read -r object; do
    printf 'object %s %s\n' "${room%%=*}" "${object##*/}"
    "$nm" --format=posix "$object"
  done
done | awk '
  $1 == "object" {
    if ($2 != room) { order[$2] = ++rooms; room = $2 }
    object = $3
    objects++
    next
  }
  # Weak symbols (V, W) may be defined in many rooms: inline functions. Local ones are nobody else'"'"'s.
  $2 ~ /^[TDBR]$/ { home[$1] = room }
  $2 == "U" && $1 ~ /amptally/ { asked[++n] = room " " object " " $1 }
  END {
    for (i = 1; i <= n; i++) {
      split(asked[i], a, " ")
      if (!(a[3] in home)) continue
      calls++
      if (order[home[a[3]]] > order[a[1]]) {
        printf "%s (%s) calls %s of the later %s\n", a[1], a[2], a[3], home[a[3]] | "c++filt >&2"
        faults++
      }
    }
    close("c++filt >&2")
    if (rooms < 10 || calls < 100) { printf "only %d rooms, %d calls\n", rooms, calls; faults++ }
    exit faults > 0
  }'
