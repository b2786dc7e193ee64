# A mistake in the shipped tables must stop the build and say where it is.
# Run: cmake -D EMBED_DATA=... -D SOURCE_DIR=... -D WORK_DIR=... -P embed_data.cmake
file(MAKE_DIRECTORY ${WORK_DIR})
file(READ ${SOURCE_DIR}/data/places.csv places)
file(READ ${SOURCE_DIR}/data/climate_grid.csv grid)
file(READ ${SOURCE_DIR}/data/batteries.json batteries)
file(READ ${SOURCE_DIR}/data/conductors.csv conductors)

# expect(MESSAGE KIND FILE): embedding FILE (and, for a climate, the grid) stops with MESSAGE.
function(expect message kind file)
  set(inputs ${file})
  if(kind STREQUAL climate)
    list(APPEND inputs ${WORK_DIR}/grid.csv)
  endif()
  execute_process(
    COMMAND ${EMBED_DATA} ${kind} ${WORK_DIR}/out.cpp ${inputs}
    RESULT_VARIABLE status ERROR_VARIABLE error)
  if(status EQUAL 0 OR NOT error MATCHES "${message}")
    message(SEND_ERROR "expected \"${message}\", got status ${status}: ${error}")
  endif()
endfunction()

# broken(NAME FROM TO): a copy of places.csv with one text replaced.
function(broken from to)
  string(REPLACE "${from}" "${to}" text "${places}")
  if(text STREQUAL places)
    message(SEND_ERROR "\"${from}\" is not in places.csv")
  endif()
  file(WRITE ${WORK_DIR}/places.csv "${text}")
endfunction()

file(WRITE ${WORK_DIR}/grid.csv "${grid}")
broken("CI,5.32,-4.02" "CI,5.32,x")
expect("places.csv:2: \"x\" is not a number" climate ${WORK_DIR}/places.csv)
broken("CI,5.32,-4.02" "CI,5.325,-4.02")
expect("places.csv:2: 5.325 has more than 2 decimals" climate ${WORK_DIR}/places.csv)
broken("CI,5.32,-4.02" "CI,95.32,-4.02")
expect("places.csv:2: 95.32 is not in -90..90" climate ${WORK_DIR}/places.csv)
broken("CI,5.32,-4.02" "CI,5.32,")
expect("places.csv:2: \"\" is not a number" climate ${WORK_DIR}/places.csv)
broken("CI,5.32,-4.02" "CI,5.32")
expect("places.csv:2: 41 columns instead of 42" climate ${WORK_DIR}/places.csv)
broken("ghi_feb" "ghi_fbe")
expect("places.csv:1: column \"ghi_fbe_kwh_m2_day\" instead of" climate ${WORK_DIR}/places.csv)
broken("abu-dhabi," "abidjan,")
expect("places.csv:3: id \"abidjan\" is empty or used before" climate ${WORK_DIR}/places.csv)

file(WRITE ${WORK_DIR}/places.csv "${places}")
string(REGEX REPLACE "\n[^\n]+\n$" "\n" text "${grid}")
file(WRITE ${WORK_DIR}/grid.csv "${text}")
expect("grid.csv:3395: 3394 rows instead of 3395" climate ${WORK_DIR}/places.csv)

string(REPLACE "[[-15, 0.65], [-10" "[[-15, 0.65], [-20" text "${batteries}")
file(WRITE ${WORK_DIR}/batteries.json "${text}")
expect("batteries.json:[0-9]+: temp_capacity: -20 does not rise" batteries ${WORK_DIR}/batteries.json)
string(REPLACE "\"shelf_life_years\": \"" "\"shelf_life\": \"" text "${batteries}")
file(WRITE ${WORK_DIR}/batteries.json "${text}")
expect("batteries.json:[0-9]+: shelf_life_years has no source" batteries ${WORK_DIR}/batteries.json)

# Of the first type that has it, and its line.
foreach(mistake
    "\"kind\": \"agm\"|\"kind\": \"flooded\"|\"flooded\" is used before"
    "\"lfp\"|\"wet\"|\"wet\" is used before"
    "\"chemistry\": \"lead-acid\"|\"chemistry\": \"lead\"|chemistry \"lead\" is neither lead-acid nor lithium"
    "\"charge_efficiency_share\": null|\"charge_efficiency_share\": 0.9|of lead-acid that is not sealed is computed"
    "\"chemistry\": \"lead-acid\"|\"chemistry\": \"lithium\"|charge_efficiency_share is missing"
    "\"sealed\": false|\"sealed\": 0|sealed is neither true nor false"
    "\"sealed\": \"by|\"closed\": \"by|sealed has no source"
    "\"label\": \"gel (sealed lead-acid)\"|\"label\": \"\"|label is not a word")
  string(REPLACE "|" ";" mistake "${mistake}")
  list(GET mistake 0 from)
  list(GET mistake 1 to)
  list(GET mistake 2 message)
  string(REPLACE "${from}" "${to}" text "${batteries}")
  if(text STREQUAL batteries)
    message(SEND_ERROR "\"${from}\" is not in batteries.json")
  endif()
  file(WRITE ${WORK_DIR}/batteries.json "${text}")
  expect("batteries.json:[0-9]+: .*${message}" batteries ${WORK_DIR}/batteries.json)
endforeach()

string(REPLACE "IEC,1.5,1.5,13.3," "IEC,1.5,1.5,31.3," text "${conductors}")
file(WRITE ${WORK_DIR}/conductors.csv "${text}")
expect("conductors.csv:5: resistance_ohm_km does not fall" conductors ${WORK_DIR}/conductors.csv)
string(REPLACE "AWG,20," "SWG,20," text "${conductors}")
file(WRITE ${WORK_DIR}/conductors.csv "${text}")
expect("conductors.csv:15: \"SWG\" is neither IEC nor AWG" conductors ${WORK_DIR}/conductors.csv)

file(READ ${SOURCE_DIR}/data/clocks.csv clocks)
string(REPLACE "\n-78.40,106.90,5,Antarctica/Vostok" "\n-78.40,106.90,5.1,Antarctica/Vostok" text "${clocks}")
file(WRITE ${WORK_DIR}/clocks.csv "${text}")
expect("clocks.csv:2: 5.1 is no whole number of quarter hours" clocks ${WORK_DIR}/clocks.csv)
string(REPLACE ",5,Antarctica/Vostok" ",5," text "${clocks}")
file(WRITE ${WORK_DIR}/clocks.csv "${text}")
expect("clocks.csv:2: zone is missing" clocks ${WORK_DIR}/clocks.csv)

file(READ ${SOURCE_DIR}/data/crops.csv crops)
string(REPLACE "\ncabbage," "\nbroccoli," text "${crops}")
file(WRITE ${WORK_DIR}/crops.csv "${text}")
expect("crops.csv:4: crop \"broccoli\" is empty or used before" crops ${WORK_DIR}/crops.csv)
string(REPLACE "cabbage,1.05" "cabbage,10.5" text "${crops}")
file(WRITE ${WORK_DIR}/crops.csv "${text}")
expect("crops.csv:4: 10.5 is not in 0..2" crops ${WORK_DIR}/crops.csv)
