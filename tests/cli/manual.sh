#!/bin/sh
# What reads manual pages has nothing to say about ours: manual.sh PAGE
# Skipped (77) where neither man nor mandoc is installed.
set -eu
export LC_ALL=C.UTF-8
asked=0
if command -v mandoc >/dev/null; then
  asked=1
  # Not the length of source lines: a machine wrote them.
  said=$(mandoc -T lint "$1" | grep -v 'STYLE: input text line longer than 80 bytes') || true
  if [ -n "$said" ]; then
    printf '%s\n' "$said"
    exit 1
  fi
fi
if command -v man >/dev/null && command -v groff >/dev/null; then
  asked=1
  said=$(MANROFFSEQ='' MANWIDTH=80 man --warnings -E UTF-8 -l -Tutf8 -Z "$1" 2>&1 >/dev/null)
  if [ -n "$said" ]; then
    printf '%s\n' "$said"
    exit 1
  fi
  widest=$(MANWIDTH=80 man -l "$1" | col -bx | wc -L)
  if [ "$widest" -gt 90 ]; then
    echo "a line of $widest columns"
    exit 1
  fi
fi
if [ "$asked" -eq 0 ]; then
  echo 'skipped: neither man nor mandoc is installed'
  exit 77
fi
