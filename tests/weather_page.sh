#!/bin/sh
# The figures in docs/weather.md are those of today. They come from published years by the hour and
# measured runs of days, read from the folder that AMPTALLY_REFERENCE names; without it nothing is
# compared.
# weather_page.sh WEATHER_TRUTH SOURCE_DIR [--write | --verdict | --misses]
# The last two print what is aimed at, and where that is missed, and leave the page alone.
set -eu
folder=${AMPTALLY_REFERENCE:-}
if [ -z "$folder" ] || [ ! -d "$folder/hourly" ] || [ ! -d "$folder/daily" ]; then
  echo "skipped: AMPTALLY_REFERENCE names no folder that may have years of weather"
  exit 77
fi
program=$1
page=$2/docs/weather.md
mode=${3:-}
unpacked=$(mktemp -d)
trap 'rm -rf "$unpacked"' EXIT
trap 'exit 1' HUP INT TERM
for run in "$folder"/daily/*.csv.gz; do
  gzip -dc "$run" >"$unpacked/$(basename "$run" .gz)"
done
case $mode in
  --verdict) set -- ;;
  --misses) set -- --misses ;;
  --write) set -- --page "$page" ;;
  *) set -- --page "$page" --check ;;
esac
"$program" "$folder"/hourly/*.epw "$unpacked"/*.csv "$@"
