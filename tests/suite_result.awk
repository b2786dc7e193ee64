# Counts what `ctest --verbose` ran: "PASSED FAILED SKIPPED" on the first line, then why something was
# skipped and what the tests that failed said. A test file of Catch2 counts as the cases in it, and
# each line "skipped: why" as one more test, or one case less that passed.
match($0, /^[0-9]+: /) {
  number = substr($0, 1, RLENGTH - 2)
  line = substr($0, RLENGTH + 1)
  if (line ~ /^(Test command|Working Directory|Test timeout|Environment variables)/) next
  said[number] = said[number] "  " line "\n"
  if (line ~ /^skipped: /) {
    skips[number]++
    whys[number] = whys[number] "  " line "\n"
  } else if (line ~ /^All tests passed .* test cases?\)$/) {
    for (i = split(line, word, /[ (]+/); i > 0; i--) if (word[i] == "test") good[number] = word[i - 1]
  } else if (line ~ /^test cases: /) {
    for (i = split(line, word, /[ |]+/); i > 0; i--) {
      if (word[i] == "passed") good[number] = word[i - 1]
      if (word[i] == "failed") bad[number] = word[i - 1]
    }
  }
  next
}
match($0, /^ *[0-9]+\/[0-9]+ +Test +#[0-9]+: /) {
  head = substr($0, 1, RLENGTH)
  name = substr($0, RLENGTH + 1)
  sub(/[ .*].*/, "", name)
  number = head
  gsub(/.*#|: $/, "", number)
  if (/ Passed +[0-9.]+ sec *$/) {
    passed += (number in good) ? good[number] - skips[number] : 1
    skipped += skips[number]
  } else if (/\*\*\*Skipped +[0-9.]+ sec *$/) {
    skipped += skips[number] > 0 ? skips[number] : 1
    if (whys[number] == "") whys[number] = "  skipped: without a reason\n"
  } else {
    passed += good[number]
    failed += bad[number] > 0 ? bad[number] : 1
    failures = failures $0 "\n" said[number]
  }
  if (whys[number] != "") reasons = reasons name "\n" whys[number]
}
END { printf "%d %d %d\n%s%s", passed, failed, skipped, reasons, failures }
