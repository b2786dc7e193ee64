"""A year's hours of some designs, one after the other in a plain loop: the step of the library's
src/balance/hour_step.hpp in another language. Needs no package.

Run: same_step.py INPUT DAYS, INPUT as written by same_step_case.
Prints the charge taken out of all batteries at the end, and all charge asked and not served, Ah.
"""
import sys


def read(path):
    """Hours (offer, asked, light, draw, asked while loads run, for which share), days (temperature factor), designs."""
    with open(path, encoding="ascii") as file:
        kinds = {"hour": [], "day": [], "design": []}
        for line in file:
            kind, *numbers = line.split()
            kinds[kind].append([float(number) for number in numbers])
    return kinds["hour"], kinds["day"], kinds["design"]


def run(design, hours, days):
    (standby, kept_share, drift, limit, frozen_limit, gain, offset, tail, bend, given_back,
     unfilled, size, most_offer, capacity, above_reconnect, taken, connected, *drawable) = design
    short = 0.0
    for d, (factor,) in enumerate(days):
        empty = capacity * factor
        reconnect = empty * above_reconnect
        for unit_offer, asked, light, draw, run, run_share in hours[24 * d:24 * d + 24]:
            if taken <= reconnect:
                connected = True
            standby_left = standby
            load_left = asked
            surplus = 0.0
            if light:
                offer = unit_offer * size
                if offer > most_offer:
                    offer = most_offer
                if offer < standby:
                    standby_left = standby - offer
                else:
                    standby_left = 0.0
                    surplus = offer - standby
                    if connected:
                        lacking = run - run_share * surplus
                        put_back = min(lacking, lacking + surplus - asked)
                        if surplus > asked:
                            surplus -= asked
                            load_left = 0.0
                        else:
                            load_left = asked - surplus
                            surplus = 0.0
                        if put_back > 0:
                            load_left += put_back
                            surplus += put_back

            # The battery gives what the sun left over: standby down to empty, loads as far as their
            # draw can take it.
            wanted = taken + standby_left + load_left
            lowest = max(taken, empty)
            after = min(taken + standby_left, lowest)
            if connected:
                after = min(wanted, max(after, empty * drawable[int(draw)]))
                if after < wanted:
                    connected = False
            short += wanted - after
            taken = after

            if surplus > 0:
                most = frozen_limit if light == 2 else limit
                given = surplus if surplus < most else most
                rate = gain / (given + offset)
                u = 1 - rate * taken
                lost = tail * (1 + u * u) ** 16 if u > 0 else tail
                kept = 1 - lost
                filled = rate * given
                bent = 1 - bend * filled * kept
                stored = given * given_back * kept * bent / (
                    bent + filled * (8 + 0.070 * 256 * filled) * lost)
                taken -= min(stored, max(taken - unfilled, 0.0))
            taken = taken * kept_share + drift
    return taken, short


def main():
    hours, days, designs = read(sys.argv[1])
    days = days[:int(sys.argv[2])]
    results = [run(design, hours, days) for design in designs]
    print(repr(sum(taken for taken, _ in results)), repr(sum(short for _, short in results)))


if __name__ == "__main__":  # same_step_numpy.py reads its input by `read`
    main()
