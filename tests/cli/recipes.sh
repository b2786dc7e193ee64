#!/bin/sh
# docs/recipes.md tells the truth: each indented block is run, and the block after "prints" must be,
# word for word, what it prints.
# recipes.sh PROGRAM SOURCE_DIR
set -eu
export LC_ALL=C.UTF-8
source_dir=$2
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
mkdir "$work/bin" "$work/run"
ln -s "$1" "$work/bin/amptally"
ln -s "$source_dir/examples" "$work/run/examples"
PATH="$work/bin:$PATH"
# GNU parallel keeps its notes in the home folder.
export HOME="$work"

awk -v work="$work" '
  /^    / { if (!open) { open = 1; if (!expected) n++ }
            sub(/^    /, ""); print > (work "/" n (expected ? ".expected" : ".sh")); next }
  /^$/ { if (open) print "" > (work "/" n (expected ? ".expected" : ".sh")); next }
  { open = 0; expected = ($0 == "prints") }
' "$source_dir/docs/recipes.md"

failures=0
count=0
for recipe in "$work"/*.sh; do
  name=${recipe%.sh}
  if grep -q parallel "$recipe" && ! parallel --version 2>/dev/null | grep -q 'GNU parallel'; then
    echo 'not tried, as there is no GNU parallel here:'
    cat "$recipe"
    continue
  fi
  (cd "$work/run" && sh -eu "$recipe") >"$name.printed" || true
  # The blank lines around a block are the page's.
  sed -e :a -e '/^\n*$/{$d;N;ba' -e '}' "$name.expected" >"$name.wanted"
  if ! diff -u "$name.wanted" "$name.printed"; then
    failures=$((failures + 1))
    cat "$recipe"
  fi
  count=$((count + 1))
done
if [ "$failures" -gt 0 ] || [ "$count" -lt 5 ]; then exit 1; fi
echo "$count recipes print what the page says"
