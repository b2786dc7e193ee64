#!/bin/sh
# Every example of every command's help works as it stands, among the example sites.
# help_examples.sh PROGRAM SOURCE_DIR
set -eu
export LC_ALL=C.UTF-8
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
mkdir "$work/bin" "$work/run"
ln -s "$1" "$work/bin/amptally"
cp -r "$2"/examples/. "$work/run"
PATH="$work/bin:$PATH"
cd "$work/run"

failures=0
count=0
for command in '' $(amptally complete '' | cut -f 1); do
  # shellcheck disable=SC2086  # no word at all for the program's own help
  amptally $command --help | sed -e :a -e '/\\$/N' -e 's/\\\n *//' -e ta | grep '^  amptally ' >"$work/lines"
  while read -r line; do
    status=0
    sh -c "$line" >"$work/printed" 2>"$work/said" </dev/null || status=$?
    count=$((count + 1))
    if [ "$status" -gt 1 ]; then
      failures=$((failures + 1))
      printf 'FAILED (%s): %s\n' "$status" "$line"
      cat "$work/said"
    fi
  done <"$work/lines"
done
echo "$((count - failures)) of $count examples work"
[ "$failures" -eq 0 ] && [ "$count" -ge 24 ]
