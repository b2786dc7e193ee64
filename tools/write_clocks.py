#!/usr/bin/env python3
"""Writes data/clocks.csv: standard time at every place of data/places.csv and every zone of tzdata.

    tools/write_clocks.py > data/clocks.csv

Run by hand, with a newer tzdata, where a country changes its clock; data/README.md notes the version.
A shipped place has the clock of the nearest zone of its country (zone1970.tab, and zone.tab, which has a
coordinate in every country). Public domain, as tzdata is.
"""

import csv
import datetime
import math
import pathlib
import re
import sys
import zoneinfo

TZDATA = pathlib.Path("/usr/share/zoneinfo")
PLACES = pathlib.Path(__file__).parent.parent / "data" / "places.csv"
YEAR = 2026  # whose clocks are written
LEAST_DAYS = 60  # the lowest offset that lasts: winter's everywhere, not a month of Ramadan's


def degrees(text):
    """+4325-00315 or +404251-0740023 as latitude and longitude."""
    out = []
    for sign, digits in re.findall(r"([+-])(\d+)", text):
        whole = len(digits) - (2 if len(digits) < 6 else 4)
        value = int(digits[:whole]) + int(digits[whole : whole + 2]) / 60
        value += int(digits[whole + 2 :] or 0) / 3600
        out.append(-value if sign == "-" else value)
    return tuple(out)


def standard_offset_h(zone):
    days = {}
    day = datetime.datetime(YEAR, 1, 1, 12, tzinfo=zoneinfo.ZoneInfo(zone))
    while day.year == YEAR:
        offset = day.utcoffset().total_seconds() / 3600
        days[offset] = days.get(offset, 0) + 1
        day += datetime.timedelta(days=1)
    return min(offset for offset, count in days.items() if count >= LEAST_DAYS)


def distance(a, b):
    """Angle between two points; for comparing only."""
    phi = [math.radians(p[0]) for p in (a, b)]
    across = math.sin(math.radians(b[1] - a[1]) / 2) ** 2
    return math.sin((phi[1] - phi[0]) / 2) ** 2 + math.cos(phi[0]) * math.cos(phi[1]) * across


def zones():
    """Zone: its point, and the countries it is the clock of."""
    found = {}
    # zone.tab has each country's own zones, zone1970.tab those that agree since 1970 as one.
    for name in ("zone.tab", "zone1970.tab"):
        for line in (TZDATA / name).read_text(encoding="utf-8").splitlines():
            if not line.startswith("#"):
                countries, position, zone = line.split("\t")[:3]
                found.setdefault(zone, (degrees(position), countries.split(",")))
    return found


def main():
    version = (TZDATA / "tzdata.zi").read_text(encoding="utf-8").split()[2]
    print(f"tzdata {version}, clocks of {YEAR}: note it in data/README.md", file=sys.stderr)
    all_zones = zones()
    rows = [(point, zone) for zone, (point, _) in all_zones.items()]
    with PLACES.open(encoding="utf-8") as file:
        for place in csv.DictReader(file):
            point = (float(place["latitude_deg"]), float(place["longitude_deg"]))
            own = [z for z, (_, known) in all_zones.items() if place["country"] in known]
            own = own or list(all_zones)  # XK has no code in tzdata
            rows.append((point, min(own, key=lambda z: distance(all_zones[z][0], point))))
    out = csv.writer(sys.stdout, lineterminator="\n")
    out.writerow(["latitude_deg", "longitude_deg", "utc_offset_h", "zone"])
    lines = {(f"{p[0]:.2f}", f"{p[1]:.2f}"): (f"{standard_offset_h(z):g}", z) for p, z in rows}
    for (latitude, longitude), (offset, zone) in sorted(
        lines.items(), key=lambda row: (float(row[0][0]), float(row[0][1]))
    ):
        out.writerow([latitude, longitude, offset, zone])


if __name__ == "__main__":
    main()
