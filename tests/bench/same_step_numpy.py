"""As same_step.py, hour by hour for all designs at once. Needs python3-numpy."""
import sys

import numpy as np

from same_step import read


def run(designs, hours, days):
    (standby, kept_share, drift, limit, frozen_limit, gain, offset, tail, bend, given_back,
     unfilled, size, most_offer, capacity, above_reconnect, taken, connected) = designs[:17]
    drawable = designs[17:]
    connected = connected > 0
    short = np.zeros_like(taken)
    for d, (factor,) in enumerate(days):
        empty = capacity * factor
        reconnect = empty * above_reconnect
        for unit_offer, asked, light, draw, run, run_share in hours[24 * d:24 * d + 24]:
            connected = connected | (taken <= reconnect)
            if light:
                beyond = np.minimum(unit_offer * size, most_offer) - standby
                for_loads = np.maximum(beyond, 0)
                with_standby = taken + (for_loads - beyond)
                served = np.where(connected, np.minimum(asked, for_loads), 0)
                lacking = run - run_share * for_loads
                put_back = np.where(
                    connected, np.maximum(np.minimum(lacking, lacking + for_loads - asked), 0), 0)
                surplus = for_loads - served + put_back
                wanted = with_standby + (asked - served) + put_back
            else:
                with_standby = taken + standby
                wanted = with_standby + asked
            after = np.minimum(with_standby, np.maximum(taken, empty))
            after = np.minimum(wanted, np.maximum(after, connected * (empty * drawable[int(draw)])))
            connected = connected & (after == wanted)
            short += wanted - after
            taken = after
            if light:
                given = np.minimum(surplus, frozen_limit if light == 2 else limit)
                rate = gain / (given + offset)
                p = np.maximum(1 - rate * taken, 0)
                p = 1 + p * p
                p *= p  # a power of 16 by squares: np.power is slower
                p *= p
                p *= p
                p *= p
                lost = tail * p
                kept = 1 - lost
                filled = rate * given
                bent = 1 - bend * filled * kept
                stored = given * given_back * kept * bent / (
                    bent + filled * (8 + 0.070 * 256 * filled) * lost)
                taken = taken - np.minimum(stored, np.maximum(taken - unfilled, 0))
            taken = taken * kept_share + drift
    return float(taken.sum()), float(short.sum())


def main():
    hours, days, designs = read(sys.argv[1])
    designs = np.ascontiguousarray(np.array(designs).T)  # a row a figure
    print(*map(repr, run(designs, hours, days[:int(sys.argv[2])])))


main()
