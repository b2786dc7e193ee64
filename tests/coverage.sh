#!/bin/sh
# How much of the model the unit tests go through: tests/coverage.sh [FOLDER]
#
# Builds into build/coverage, runs the unit tests and prints, for each source of FOLDER (src/core),
# the lines and branches that they met. The lines and branches they missed are in
# build/coverage/missed.txt. Nothing is inlined, or the branches of the standard library would count
# as those of the line that calls it. Takes a quarter of an hour.
set -eu
export LC_ALL=C.UTF-8
cd "$(dirname "$0")/.."
. cmake/shell-common.sh

folder=${1-src/core}
[ -d "$folder" ] || { say "tests/coverage.sh: \"$folder\" is no folder"; exit 2; }
need_packages catch2 lcov
quietly configure_and_build coverage amptally_tests
cd build/coverage
quietly lcov --zerocounters --directory .
quietly tests/amptally_tests
# A call that might throw is a branch to the compiler, and none to a reader.
with_branches='--rc lcov_branch_coverage=1 --rc geninfo_no_exception_branch=1'
# shellcheck disable=SC2086  # a list of words
quietly lcov $with_branches --capture --directory . --output-file all.info
# shellcheck disable=SC2086
quietly lcov $with_branches --extract all.info "*/$folder/*" --output-file folder.info
# shellcheck disable=SC2086
lcov $with_branches --list folder.info
awk -F'[:,]' '
  /^SF/ { file = $2; sub(".*/'"$folder"'/", "'"$folder"'/", file) }
  /^DA/ && $3 == 0 { print file ":" $2 ": line" }
  /^BRDA/ && ($5 == 0) { print file ":" $2 ": branch " $4 }
' folder.info >missed.txt
