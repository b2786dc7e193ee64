#!/bin/sh
# How many tests compare the program with what: how_tested.sh TEST_PROGRAM SOURCE_DIR [--write]
#
# Counts the cases of each kind by subject (the tag that comes first in the alphabet), says how many
# there are in all, and fails when the table of docs/how-tested.md has other counts; with --write it
# puts them there.
set -eu
export LC_ALL=C.UTF-8
program=$1
page=$2/docs/how-tested.md
begin='<!-- counts: written by tests/how_tested.sh -->'
end='<!-- end of counts -->'

# The lines of tags, one a case: "      [recomputed][sun]".
tags() { { "$program" "$1" --list-tests || true; } | grep '^      \['; }

work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
tags '*' >"$work/tags"
awk '
  {
    # A kind is one tag of three, and no case has two.
    n = split($1, tag, /[][]+/)
    subject = kind = ""
    for (i = 1; i <= n; i++) {
      if (tag[i] == "") continue
      if (tag[i] == "published") { print "[published] says no kind: " $1 | "cat >&2"; failed = 1 }
      if (tag[i] == "printed-outside" || tag[i] == "recomputed" || tag[i] == "common-practice") {
        if (kind != "") { print "a test has two kinds: " $1 | "cat >&2"; failed = 1 }
        kind = tag[i]
      } else if (tag[i] !~ /^[.#!]|^reference$/ && (subject == "" || tag[i] < subject)) {
        subject = tag[i]
      }
    }
    if (kind != "") { seen[subject]++; count[subject, kind]++; all[kind]++ }
  }
  END {
    print "| subject | printed outside | recomputed | common practice |"
    print "|---|---|---|---|"
    for (subject in seen) {
      row = "| " subject " | " count[subject, "printed-outside"] + 0 " | " \
        count[subject, "recomputed"] + 0 " | " count[subject, "common-practice"] + 0 " |"
      print row | "sort"
    }
    close("sort")
    print "| all | " all["printed-outside"] + 0 " | " all["recomputed"] + 0 " | " \
      all["common-practice"] + 0 " |"
    exit failed
  }' "$work/tags" >"$work/table"

skipped=0
[ -n "${AMPTALLY_REFERENCE:-}" ] || skipped=$(tags '[reference]' | wc -l)
awk -F ' [|] ' -v skipped="$skipped" '/^[|] all / {
  sub(/ [|]$/, "")
  printf "printed outside: %d, recomputed: %d, common practice: %d, skipped: %d\n", $2, $3, $4, skipped
}' "$work/table"

awk -v begin="$begin" -v end="$end" -v table="$work/table" '
  $0 == end { inside = 0; ended = 1 }
  !inside { print }
  $0 == begin { inside = 1; while ((getline line < table) > 0) print line }
  END { exit !ended }' "$page" >"$work/page" || {
  echo "$page: the two lines around the table are missing"
  exit 1
}
if [ "${3:-}" = --write ]; then
  cp "$work/page" "$page"
elif ! cmp -s "$work/page" "$page"; then
  echo "docs/how-tested.md has other counts: tests/how_tested.sh $program $2 --write puts these there"
  cat "$work/table"
  exit 1
fi
