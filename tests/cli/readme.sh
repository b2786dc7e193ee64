#!/bin/sh
# The README tells the truth: each command it shows with "$ build/amptally ..." is run, and each line
# it shows below must come in the output, in that order ("..." leaves lines out).
# readme.sh PROGRAM SOURCE_DIR
set -eu
program=$1
cd "$2"
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT

awk -v work="$work" '
  /^    \$ build\/amptally / { open = 1; sub(/^    \$ build\/amptally /, ""); print > (work "/" ++n ".command"); next }
  /^    / && open { sub(/^    /, ""); if ($0 != "...") print > (work "/" n ".lines"); next }
  /^[^ ]/ { open = 0 }
' README.md

shown=0
for command in "$work"/*.command; do
  n=${command%.command}
  status=0
  sh -c "exec \"\$0\" $(cat "$command")" "$program" >"$n.output" || status=$?
  if [ "$status" -gt 1 ]; then
    echo "exit status $status: $(cat "$command")"
    exit 1
  fi
  # Every shown line, in order, among the output's lines.
  awk 'NR == FNR { wanted[++n] = $0; next } i < n && $0 == wanted[i + 1] { i++ }
       END { if (i < n) { print "not in the output: " wanted[i + 1]; exit 1 } }' "$n.lines" "$n.output"
  shown=$((shown + 1))
done
if [ "$shown" -lt 2 ]; then exit 1; fi
echo "$shown commands of the README do what it shows"
