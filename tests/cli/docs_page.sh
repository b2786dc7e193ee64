#!/bin/sh
# A page of docs/ tells the truth: its indented blocks are run from top to bottom, in one folder, and
# what a block prints must be, word for word, the block after the line "prints" ("..." leaves lines
# out). A block with nothing of the kind below it must print nothing. The site may miss its aim
# (status 1); a mistake (status 2 and above) fails. Status 77: jq is used and missing.
# docs_page.sh PROGRAM SOURCE_DIR PAGE LEAST_BLOCKS
set -eu
export LC_ALL=C.UTF-8
source_dir=$2
page=$source_dir/docs/$3
if grep -q '^ *jq ' "$page" && ! command -v jq >/dev/null; then
  echo "skipped: docs/$3 uses jq, which is not installed"
  exit 77
fi
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
mkdir "$work/bin" "$work/run"
ln -s "$1" "$work/bin/amptally"
ln -s "$source_dir/examples" "$work/run/examples"
PATH="$work/bin:$PATH"
# GNU parallel keeps its notes in the home folder.
export HOME="$work"

# Blank lines inside a block belong to it, those around it to the page.
awk -v work="$work" '
  function put(line) { print line > (work "/" n (expected ? ".expected" : ".sh")) }
  /^    / { if (!open) { open = 1; blank = 0; if (!expected) n++ }
            for (; blank > 0; blank--) put("")
            put(substr($0, 5)); next }
  /^$/ { if (open) blank++; next }
  { open = 0; expected = ($0 == "prints") }
  END { print n + 0 > (work "/count") }
' "$page"
count=$(cat "$work/count")

failures=0
n=0
while [ "$n" -lt "$count" ]; do
  n=$((n + 1))
  block=$work/$n
  [ -e "$block.expected" ] || : >"$block.expected"
  if grep -q parallel "$block.sh" && ! parallel --version 2>/dev/null | grep -q 'GNU parallel'; then
    echo "skipped: block $n of docs/$3 uses GNU parallel, which is not installed"
    continue
  fi
  status=0
  (cd "$work/run" && sh -eu "$block.sh") >"$block.printed" || status=$?
  # The lines between two "..." stand together; the first and the last begin and end the output.
  if [ "$status" -gt 1 ] || ! awk '
    NR == FNR { wanted[++w] = $0; next }
    { printed[++p] = $0 }
    END {
      at = 1
      for (from = 1; from <= w; from = to + 1) {
        for (to = from; to <= w && wanted[to] != "..."; to++) ;
        size = to - from
        last = to > w
        start = last && from > 1 ? p - size + 1 : at
        for (; ; start++) {
          for (i = 0; i < size && printed[start + i] == wanted[from + i]; i++) ;
          if (i == size) break
          if (from == 1 || last || start > p) { print "not printed: " wanted[from + i]; exit 1 }
        }
        if (start < at) { print "not printed in this order: " wanted[from]; exit 1 }
        at = start + size
      }
      if (wanted[w] != "..." && at != p + 1) { print "printed as well: " printed[at]; exit 1 }
    }' "$block.expected" "$block.printed"; then
    failures=$((failures + 1))
    echo "---- status $status of"
    cat "$block.sh"
    echo "---- prints"
    cat "$block.printed"
  fi
done
if [ "$failures" -gt 0 ] || [ "$count" -lt "$4" ]; then exit 1; fi
echo "$count blocks of docs/$3 print what the page says"
