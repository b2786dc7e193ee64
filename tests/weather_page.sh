#!/bin/sh
# The figures in docs/weather.md are those of today. They come from two published years by the hour,
# read from the folder that AMPTALLY_REFERENCE names; without it nothing is compared.
# weather_page.sh WEATHER_TRUTH SOURCE_DIR [--write]
set -eu
folder=${AMPTALLY_REFERENCE:-}
if [ -z "$folder" ]; then
  echo "skipped: AMPTALLY_REFERENCE names no folder that may have hourly years"
  exit 77
fi
mode=--check
[ "${3:-}" != --write ] || mode=
# shellcheck disable=SC2086 # an empty mode is no argument
exec "$1" "$folder/hourly/LKA_Colombo-Katunayake.434500_SWERA.epw" \
  "$folder/hourly/USA_AZ_Davis-Monthan.AFB.722745_TMY3.epw" --page "$2/docs/weather.md" $mode
