#!/bin/sh
# How much of the model the unit tests go through: tests/coverage.sh [FOLDER]
#
# Builds into build/coverage, runs the unit tests and prints, for each source of FOLDER (src),
# the lines and branches that they met; those they missed are in build/coverage/missed.txt. Clang
# counts what stands in the source: gcc would count each call that might throw, and what is cleared
# away then, as branches. Takes some ten minutes.
set -eu
export LC_ALL=C.UTF-8
cd "$(dirname "$0")/.."
. cmake/shell-common.sh

folder=${1-src}
[ -d "$folder" ] || { say "tests/coverage.sh: \"$folder\" is no folder"; exit 2; }
need_packages catch2 clang lcov libclang-rt-14-dev llvm
quietly configure_and_build coverage amptally_tests
cd build/coverage
LLVM_PROFILE_FILE=run.profraw quietly tests/amptally_tests
quietly llvm-profdata merge run.profraw -o run.profdata
llvm-cov export -format=lcov -instr-profile=run.profdata tests/amptally_tests >all.info
quietly lcov --rc lcov_branch_coverage=1 --extract all.info "*/$folder/*" --output-file folder.info
lcov --rc lcov_branch_coverage=1 --list folder.info
awk -F'[:,]' -v folder="$folder/" '
  /^SF/ { file = $2; sub(".*/" folder, folder, file) }
  /^DA/ && $3 == 0 { print file ":" $2 ": line" }
  /^BRDA/ && ($5 == 0 || $5 == "-") { print file ":" $2 ": branch " $4 }
' folder.info >missed.txt
