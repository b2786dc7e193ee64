# As same_step.py, in awk. Run: awk -f same_step.awk -v days=DAYS INPUT
function least(a, b) { return a < b ? a : b }
function most(a, b) { return a > b ? a : b }

BEGIN { hours = 0; all_days = 0 }  # an index that was never set is "", not 0
$1 == "hour" { offer[hours] = $2; asked[hours] = $3; light[hours] = $4; draw[hours] = $5
               run_ah[hours] = $6; run_share[hours++] = $7 }
$1 == "day" { factor[all_days++] = $2 }
$1 == "design" { run() }

END { printf "%.17g %.17g\n", all_taken, all_short }

function run(    standby, kept_share, drift, limit, frozen, gain, offset, tail, bend, given_back, unfilled,
             size, most_offer, taken, connected, d, h, empty, reconnect, for_loads, standby_left,
             load_left, surplus, lacking, put_back, given, after, wanted, rate, u, p, lost, kept, filled, bent) {
  standby = $2 + 0; kept_share = $3 + 0; drift = $4 + 0; limit = $5 + 0; frozen = $6 + 0
  gain = $7 + 0; offset = $8 + 0; tail = $9 + 0; bend = $10 + 0; given_back = $11 + 0
  unfilled = $12 + 0; size = $13 + 0; most_offer = $14 + 0; taken = $17 + 0; connected = $18 + 0
  for (d = 0; d < days; d++) {
    empty = $15 * factor[d]
    reconnect = empty * $16
    for (h = 24 * d; h < 24 * d + 24; h++) {
      if (taken <= reconnect) connected = 1
      standby_left = standby
      load_left = asked[h]
      surplus = 0
      if (light[h]) {
        for_loads = least(offer[h] * size, most_offer) - standby
        if (for_loads < 0) {
          standby_left = -for_loads
        } else {
          standby_left = 0
          surplus = for_loads
          if (connected) {
            lacking = run_ah[h] - run_share[h] * for_loads
            put_back = most(least(lacking, lacking + for_loads - asked[h]), 0)
            load_left = most(asked[h] - for_loads, 0) + put_back
            surplus = most(for_loads - asked[h], 0) + put_back
          }
        }
      }

      # The battery gives what the sun left over: standby down to empty, loads as far as their draw
      # can take it.
      wanted = taken + standby_left + load_left
      after = least(taken + standby_left, most(taken, empty))
      if (connected) {
        after = least(wanted, most(after, empty * $(19 + draw[h])))
        if (after < wanted) connected = 0
      }
      all_short += wanted - after
      taken = after

      if (surplus > 0) {
        given = least(surplus, light[h] == 2 ? frozen : limit)
        rate = gain / (given + offset)
        u = most(1 - rate * taken, 0)
        p = 1 + u * u
        p *= p; p *= p; p *= p; p *= p
        lost = tail * p
        kept = 1 - lost
        filled = rate * given
        bent = 1 - bend * filled * kept
        taken -= least(given * given_back * kept * bent / (bent + filled * (8 + 0.070 * 256 * filled) * lost),
                       most(taken - unfilled, 0))
      }
      taken = taken * kept_share + drift
    }
  }
  all_taken += taken
}
