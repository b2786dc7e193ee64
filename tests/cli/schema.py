"""Checks the printed JSON Schema with an independent validator.

Usage: schema.py AMPTALLY SOURCE_DIR. Exit status 77: the package jsonschema is not here.

The schema itself must be good draft-07, take every good site file, and refuse the wrong ones whose
mistake is of a kind it can see.
"""

import json
import pathlib
import subprocess
import sys

try:
    import jsonschema
except ImportError:
    print("skipped: this Python has no jsonschema")
    sys.exit(77)

amptally, source = sys.argv[1], pathlib.Path(sys.argv[2])
schema = json.loads(subprocess.run([amptally, "schema"], check=True, capture_output=True).stdout)
jsonschema.Draft7Validator.check_schema(schema)
validator = jsonschema.Draft7Validator(schema)

starter = subprocess.run([amptally, "new"], check=True, capture_output=True).stdout
examples = {path.name: path.read_text() for path in source.glob("examples/*.json")}
parts = {name: text for name, text in examples.items() if "amptally-parts/1" in text}
good = {name: text for name, text in examples.items() if name not in parts}
good["every_field.json"] = (source / "tests/data/every_field.json").read_text()
good["starter"] = starter.decode()
bad = """
    boolean_for_a_number capacity_missing capacity_zero choice_unknown count_with_a_fraction
    false_for_true format_wrong insolation_of_eleven insolation_too_strong latitude_too_high
    list_for_an_object loads_missing months_as_numbers name_empty object_for_a_list
    panel_power_missing place_without_position run_without_length schedule_missing schedule_twice
    share_in_per_cent_without_sign text_in_a_list_of_objects unknown_field unknown_root_field
    """.split()

faults = 0
for name, text in good.items():
    for error in validator.iter_errors(json.loads(text)):
        faults += 1
        print(f"{name}: refused: {list(error.path)}: {error.message[:200]}")
for name in bad:
    if validator.is_valid(json.loads((source / f"tests/bad/{name}.json").read_text())):
        faults += 1
        print(f"{name}: taken for good")

printed = subprocess.run([amptally, "schema", "parts"], check=True, capture_output=True).stdout
jsonschema.Draft7Validator.check_schema(json.loads(printed))
parts_validator = jsonschema.Draft7Validator(json.loads(printed))
for name, text in parts.items():
    for error in parts_validator.iter_errors(json.loads(text)):
        faults += 1
        print(f"{name}: refused: {list(error.path)}: {error.message[:200]}")
    for spoiled in (text.replace('"price"', '"prize"', 1), text.replace('"agm"', '"amg"', 1)):
        if parts_validator.is_valid(json.loads(spoiled)):
            faults += 1
            print(f"{name}: taken for good when spoiled")
sys.exit(1 if faults or len(good) < 5 or not parts else 0)
