#!/bin/sh
# What the pages say of the code is so: every public header is named in README.md and docs/model.md,
# every header and page they name exists, and the numbers of docs/model.md are those of the code.
# docs_agree.sh SOURCE_DIR
set -eu
export LC_ALL=C.UTF-8
cd "$1"
failures=0
fail() { failures=$((failures + 1)); printf '%s\n' "$*"; }

# Headers.
for page in README.md docs/model.md; do
  for header in include/amptally/*.hpp; do
    name=${header##*/}
    grep -qF "\`$name\`" "$page" || fail "$page does not name $name"
  done
  for name in $(grep -o "\`[a-z_]*\.hpp\`" "$page" | tr -d "\`" | sort -u); do
    [ -e "include/amptally/$name" ] || fail "$page names $name, which there is not"
  done
done

# Pages and files that are linked to.
count=0
for page in ./*.md docs/*.md data/*.md; do
  targets=$(grep -o '](\([^)#]*\)[)#]' "$page" | sed 's/^](//; s/[)#]$//')
  for target in $targets; do
    case $target in '' | http*) continue ;; esac
    count=$((count + 1))
    [ -e "${page%/*}/$target" ] || fail "$page links to $target, which there is not"
  done
done
[ "$count" -ge 40 ] || fail "only $count links found"

# Numbers: what docs/model.md prints, the file that has it, and how it is written there.
rows=0
while IFS='|' read -r printed file code; do
  rows=$((rows + 1))
  grep -qF -e "$printed" docs/model.md || fail "docs/model.md does not say \"$printed\" (see $file)"
  grep -qF -e "$code" "$file" || fail "$file does not say \"$code\" (docs/model.md: \"$printed\")"
done <<'END'
sphere of 6371 km|src/place/climate.cpp|kEarthRadius_km = 6371;
L = 280.460 + 0.9856474 n|src/place/sun.cpp|280.460 + 0.9856474 * n
g = 357.528 + 0.9856003 n|src/place/sun.cpp|357.528 + 0.9856003 * n
1.915 sin g + 0.020 sin 2g|src/place/sun.cpp|1.915 * std::sin(anomaly_rad) + 0.020 * std::sin(2 * anomaly_rad)
ε = 23.439 − 0.0000004 n|src/place/sun.cpp|23.439 - 0.0000004 * n
1.00014 − 0.01671 cos g − 0.00014 cos 2g|src/place/sun.cpp|1.00014 - 0.01671 * std::cos(g) - 0.00014 * std::cos(2 * g)
n = 10957.88 on 1 January|src/place/sun.cpp|kFirstOfJanuary_d = 10957.88;
Solar constant 1361 W/m²|include/amptally/sun.hpp|kSolarConstant_w_m2 = 1361;
a₀ = 0.4237 − 0.00821 · 6²|src/place/sun_path.cpp|kA0 = 0.4237 - 0.00821 * 36;
a₁ = 0.5055 + 0.00595 · 6.5²|src/place/sun_path.cpp|kA1 = 0.5055 + 0.00595 * 42.25;
k = 0.2711 + 0.01858 · 2.5²|src/place/sun_path.cpp|kExtinction = 0.2711 + 0.01858 * 6.25;
1 − 0.2727 K + 2.4495 K² − 11.9514 K³ + 9.3879 K⁴|src/place/sun.cpp|1 - 0.2727 * k + 2.4495 * k * k - 11.9514 * k * k * k + 9.3879 * k * k * k * k
1 + 0.2832 K − 2.5557 K² + 0.8448 K³|src/place/sun.cpp|1 + 0.2832 * k - 2.5557 * k * k + 0.8448 * k * k * k
ω_s ≤ 81.4°|src/place/sun.cpp|kErbsWinterSunset_rad = 81.4 *
0.03..0.80|src/place/mean_days.cpp|kLeastClearness = 0.03;
0.03..0.80|src/place/mean_days.cpp|kMostClearness = 0.80;
K = 0.03 + 0.77/(1 + exp(−(a + b z)))|src/place/clearness.cpp|kLowest = 0.03;
√((K − 0.03)(0.80 − K))|src/place/clearness.cpp|kHighest = 0.80;
v = 0.48 − 0.010 for each K|src/place/clearness.cpp|kVariable = 0.48;
v = 0.48 − 0.010 for each K|src/place/clearness.cpp|kLessForEachKelvin = 0.010;
warmer than 12 °C − 0.10 within 15°|src/place/clearness.cpp|kWarmFrom_c = 12;
warmer than 12 °C − 0.10 within 15°|src/place/clearness.cpp|kLessInTheTropics = 0.10;
fading out to 30°|src/place/tropics.hpp|kTemperateFrom_deg = 30;
0.10 within 15°|src/place/tropics.hpp|kTropicsTo_deg = 15;
at least 0.12|src/place/clearness.cpp|kLeastVariable = 0.12;
none above 0.80 of what|src/place/clearness.hpp|kMostVariable = 0.80;
√0.95 x + √0.05 y|src/place/day_scores.cpp|kMonthShare = 0.05;
with a correlation of 0.31 + 0.5 (K − 0.5)|src/place/clearness.cpp|kDayToDay = 0.31;
with a correlation of 0.31 + 0.5 (K − 0.5)|src/place/clearness.cpp|kMoreForClearness = 0.5;
within 0.20..0.42|src/place/clearness.cpp|kLeastDayToDay = 0.20;
within 0.20..0.42|src/place/clearness.cpp|kMostDayToDay = 0.42;
the month before with 0.78|src/place/day_scores.cpp|kMonthToMonth = 0.78;
the day before with 0.70|src/place/day_scores.cpp|kAirDayToDay = 0.70;
by 3.0 K (1.3 K within 15°|src/place/air.cpp|kDeviation_k = 3.0;
by 3.0 K (1.3 K within 15°|src/place/air.cpp|kTropicalDeviation_k = 1.3;
0.28 K more for each K|src/place/air.cpp|kMoreForEachKelvin_k = 0.28;
colder than 5 °C|src/place/air.cpp|kColderThan_c = 5;
correlation with z is −0.4 at 0 °C|src/place/air.cpp|kWithClearnessInFrost = -0.4;
none from 12 °C on|src/place/air.cpp|kWithoutClearnessFrom_c = 12;
0.45 + 0.55 K/K_mean|src/place/air.cpp|kSwingWithClearness = 0.55;
swing = (K/0.16)²|src/place/mean_days.cpp|kHargreavesInland = 0.16;
at most 20 K (chosen)|src/place/mean_days.cpp|kLargestSwing_k = 20;
1.25 times the extraterrestrial|src/place/weather_series.cpp|kMostOverTop = 1.25;
or 0.81 V_oc, or 17.6 V|src/parts/panel.cpp|kVmpOverVoc = 0.81;
or 0.81 V_oc, or 17.6 V|src/parts/panel.cpp|kVmpPer36Cells_v = 17.6;
(V_oc 21.8 V)|src/parts/panel.cpp|kVocPer36Cells_v = 21.8;
I_sc = 1.06 I_mp|src/parts/panel.cpp|kIscOverImp = 1.06;
−0.43 %/K for|src/parts/panel.cpp|kTempCoeffPower_pct_k = -0.43;
−0.33 %/K for V_oc|src/parts/panel.cpp|kTempCoeffVoc_pct_k = -0.33;
+0.05 %/K|src/parts/panel.cpp|kTempCoeffIsc_k = 0.0005;
15 K below the coldest|src/parts/electrical_limits.cpp|kRecordBelowMonth_k = 15;
(10 I/C20)^p (a + b/(s + 0.08))|src/parts/battery.cpp|kEmptyOffset = 0.08;
V/cell = 2 + 0.16 S|src/parts/battery.cpp|(cell_v - 2) / 0.16
most 95 % full|src/parts/regulator.cpp|kLatestReconnect = 0.95;
20 points above the cutoff|src/parts/regulator.cpp|kUsualReconnectGap = 0.2;
C/C20 = 1.2/(1 + 0.2 (I/I20)^0.65)|src/parts/battery.cpp|1.2 / (1 + 0.2 * std::pow(current_over_i20, 0.65))
1 − exp(20.73 (S − 1)/(I/I10 + 0.55))|src/parts/battery.cpp|kGassing = 20.73;
1 − exp(20.73 (S − 1)/(I/I10 + 0.55))|src/parts/battery.cpp|kGassingOffset = 0.55;
B = 0.164 and C = 0.070|src/parts/battery.cpp|kBend = 0.164;
B = 0.164 and C = 0.070|src/parts/charge_taper.hpp|A::all(0.070 * kTaperUnit * kTaperUnit)
more than 0.5 %, the battery *sinks*|src/balance/balance.cpp|kSinkingShare = 0.005;
panels from 0.6 of what|src/answers/size.cpp|kLeastOfMeanYear = 0.6;
to 8 times the hand method's|src/answers/size.cpp|kMostOfWorksheet = 8;
30 times that|src/answers/size.cpp|kMostOfSmallestBattery = 30;
from 1.25 I (NEC 210.20(A))|src/answers/wiring.cpp|kFuseOverRunning = 1.25;
brought to 40 °C (chosen)|include/amptally/cable.hpp|kConductor_c = 40;
up to Re 2000|src/water/hydraulics.cpp|kLaminarTo = 2000;
from 4000 (Blasius|src/water/hydraulics.cpp|kTurbulentFrom = 4000;
0.3164 Re^-0.25|src/water/hydraulics.cpp|0.3164 / std::sqrt(std::sqrt(reynolds))
0.5 V²/2g at a sharp entrance|include/amptally/hydraulics.hpp|kSharpEntrance = 0.5;
ET0 = 0.0023 (T + 17.8)|src/water/water.cpp|0.0023 * (mean_c + 17.8)
8 times the panel power, 10 times the capacity|src/answers/adjustments.cpp|kMostPanel = 8;
8 times the panel power, 10 times the capacity|src/answers/adjustments.cpp|kMostBattery = 10;
losses of 3 %|src/answers/adjustments.cpp|kLeastLosses_share = 0.03;
END

[ "$rows" -ge 40 ] || fail "only $rows numbers compared"
[ "$failures" -eq 0 ] && echo "headers, $count links and $rows numbers agree"
