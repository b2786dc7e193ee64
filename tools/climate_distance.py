#!/usr/bin/env python3
"""How far the sun of a shipped cell is from that of another, by their distance, and from that
between others.

    tools/climate_distance.py                          prints the rows of kFarther in climate.cpp
    tools/climate_distance.py --between                prints what a blend of cells leaves
    tools/climate_distance.py --check src/place/climate.cpp    fails where the rows are others, or
                                                       a blend leaves more than is told of it

All pairs of cells of data/climate_grid.csv within 60 degrees of latitude: the root mean square of
the difference of their months' sun over the mean of both, in steps of 200 km. The table holds land
and coasts; over sea, where no cell lies half-way, it is worked out apart. Of both the larger, and
never less than nearer by. Takes about 10 s.

Between: of all cells those on a grid of 5 degrees are kept, each of the four such grids in turn, and
the others found from them as the program finds a point between cells, bilinear, those of the sea
left out. Twice as far apart as the shipped ones: what is left is more than between those. Beside it
what the nearest alone would leave, and what the program tells: sqrt(sum (w a)^2), w the shares of
the cells and a how much cells as far off differ.
"""

import csv
import math
import pathlib
import re
import sys

GRID = pathlib.Path(__file__).parent.parent / "data" / "climate_grid.csv"
EARTH_KM = 6371
CELL_DEG = 2.5
STEP_KM = 200
STEPS = 13
MOST_KM = STEP_KM * STEPS


def vector(latitude_deg, longitude_deg):
    phi, lam = math.radians(latitude_deg), math.radians(longitude_deg)
    return math.cos(phi) * math.cos(lam), math.cos(phi) * math.sin(lam), math.sin(phi)


def cell_of(x, y, z):
    phi = math.degrees(math.atan2(z, math.hypot(x, y)))
    lam = math.degrees(math.atan2(y, x)) % 360
    return round(phi / CELL_DEG), round(lam / CELL_DEG) % round(360 / CELL_DEG)


def read_cells():
    with GRID.open(encoding="utf-8") as file:
        for row in csv.DictReader(file):
            sun = [float(row[name]) for name in row if name.startswith("ghi_")]
            yield float(row["latitude_deg"]), float(row["longitude_deg"]), sun


def mean_square(a, b):
    """Of the months' differences over the mean of both."""
    return sum((2 * (x - y) / (x + y)) ** 2 for x, y in zip(a, b)) / len(a)


def growth():
    """(mean distance, km; rms difference, share) for each step."""
    every_cell = list(read_cells())
    land = {cell_of(*vector(*cell[:2])) for cell in every_cell}
    cells = [(lat, vector(lat, lon), sun) for lat, lon, sun in every_cell if abs(lat) <= 60]
    most_cos = math.cos(MOST_KM / EARTH_KM)
    most_deg = math.degrees(MOST_KM / EARTH_KM)
    # For all pairs and for those over sea: count, distances, squares.
    sums = [[[0, 0.0, 0.0] for _ in range(STEPS)] for _ in range(2)]
    for i, (lat_a, a, sun_a) in enumerate(cells):
        for lat_b, b, sun_b in cells[:i]:
            if abs(lat_a - lat_b) > most_deg:
                continue
            cos = a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
            if cos <= most_cos:
                continue
            km = EARTH_KM * math.acos(min(1.0, cos))
            square = mean_square(sun_a, sun_b)
            over_sea = cell_of(a[0] + b[0], a[1] + b[1], a[2] + b[2]) not in land
            for kind in sums[: 1 + over_sea]:
                step = kind[int(km / STEP_KM)]
                step[0] += 1
                step[1] += km
                step[2] += square
    least = 0.0
    for every, sea in zip(*sums):
        shares = [math.sqrt(squares / count) for count, _, squares in (every, sea) if count]
        least = max(least, *shares)
        yield round(every[1] / every[0]), round(least, 3)


def apart(rows, km):
    """share_apart of climate.cpp: straight lines between the rows of kFarther."""
    before = (0.0, 0.0)
    for row in rows:
        if km < row[0]:
            return before[1] + (row[1] - before[1]) * (km - before[0]) / (row[0] - before[0])
        before = row
    return before[1]


def corners(cells, lat, lon, south, west):
    """Shares and cells of the 5 degree square around, scaled to sum to 1."""
    size = 2 * CELL_DEG
    found = []
    for i in (0, 1):
        for j in (0, 1):
            share = (1 - abs(south + i * size - lat) / size) * (1 - abs(west + j * size - lon) / size)
            key = south + i * size, (west + j * size + 180) % 360 - 180
            if share > 0 and key in cells:
                found.append((share, key))
    total = sum(share for share, _ in found)
    return [(share / total, key) for share, key in found]


def between(rows):
    """{cells kept around: (points, rms left by the blend, by the nearest alone, rms told)}."""
    cells = {cell[:2]: cell[2] for cell in read_cells()}
    places = {key: vector(*key) for key in cells}
    size = 2 * CELL_DEG
    sums = {}
    for south_0, west_0 in ((0, 0), (0, CELL_DEG), (CELL_DEG, 0), (CELL_DEG, CELL_DEG)):
        for (lat, lon), sun in cells.items():
            south = lat - (lat - south_0) % size
            west = lon - (lon - west_0) % size
            if abs(lat) > 60 or (south, west) == (lat, lon):
                continue
            around = corners(cells, lat, lon, south, west)
            if not around:
                continue
            blend = [sum(w * cells[key][m] for w, key in around) for m in range(12)]
            km = [
                EARTH_KM * math.acos(min(1.0, sum(a * b for a, b in zip(places[lat, lon], places[key]))))
                for _, key in around
            ]
            nearest = cells[around[km.index(min(km))][1]]
            told = sum((w * apart(rows, d)) ** 2 for (w, _), d in zip(around, km))
            step = sums.setdefault(len(around), [0, 0.0, 0.0, 0.0])
            for i, x in enumerate((1, mean_square(blend, sun), mean_square(nearest, sun), told)):
                step[i] += x
    for count in sorted(sums):
        number, *squares = sums[count]
        yield count, number, *(math.sqrt(x / number) for x in squares)


def main():
    if sys.argv[1:2] == ["--between"]:
        print("cells  points  blend  nearest  told")
        for row in between(list(growth())):
            print("%5d %7d  %.3f    %.3f %.3f" % row)
        return
    rows = list(growth())
    text = "\n".join(f"{{{km}, {share:.3f}}}," for km, share in rows)
    if sys.argv[1:2] != ["--check"]:
        print(text)
        return
    source = pathlib.Path(sys.argv[2]).read_text(encoding="utf-8")
    block = re.search(r"kFarther\b[^=]*= \{\{(.*?)\}\};", source, re.S)
    numbers = re.findall(r"\{(\d+), ([0-9.]+)\}", block.group(1)) if block else []
    if numbers != re.findall(r"\{(\d+), ([0-9.]+)\}", text):
        sys.exit(f"{sys.argv[2]}: kFarther is not what data/climate_grid.csv gives:\n{text}")
    for count, _, blend, _, told in between(rows):
        if blend > told:
            sys.exit(f"between {count} cells {blend:.3f} is left and {told:.3f} told")


if __name__ == "__main__":
    main()
