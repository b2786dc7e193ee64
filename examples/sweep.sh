#!/bin/sh
# Which panel and battery? Tries 28 pairs on the example terrace, in changeable weather, and names
# the smallest battery that each panel can do with.
# Usage: examples/sweep.sh [PROGRAM]
set -eu
export LC_ALL=C.UTF-8
cd "$(dirname "$0")/.."
program=${1:-build/amptally}

"$program" sweep examples/terrace.json --quiet --format csv --years 10 \
  --vary panel.power=80..140W:20 \
  --vary battery.capacity=20..80Ah:10 |
  awk -F, '
    # Columns go by their names, so that a new one does no harm.
    NR == 1 { for (i = 1; i <= NF; i++) column[$i] = i; next }
    {
      panel = $column["panel.power_w"]
      if (!(panel in least)) { order[++panels] = panel; least[panel] = "" }
      if (least[panel] == "" && $column["verdict"] == "holds") {
        least[panel] = $column["battery.capacity_ah"]
        bridged[panel] = $column["autonomy_days"]
      }
    }
    END {
      for (i = 1; i <= panels; i++) {
        panel = order[i]
        if (least[panel] == "") printf "%3d W: none of these batteries will do\n", panel
        else printf "%3d W: %d Ah, %.1f days without sun\n", panel, least[panel], bridged[panel]
      }
    }'
