"""Validates the examples, the starter and some mistakes against `amptally schema`.

Usage: schema.py PROGRAM EXAMPLE... Exit status 77: the package jsonschema is not here.
"""

import copy
import json
import re
import subprocess
import sys

try:
    import jsonschema
except ImportError:
    print("no jsonschema for this Python: not tried")
    sys.exit(77)


def without_comments(text):
    """JSON text without // and /* */ comments; strings are left alone."""
    token = re.compile(r'"(?:\\.|[^"\\])*"|//[^\n]*|/\*.*?\*/', re.DOTALL)
    return token.sub(lambda match: match[0] if match[0].startswith('"') else " ", text)


def spoilt(site):
    """The site with one mistake at a time, and what the mistake is."""
    def change(path, value):
        copied = copy.deepcopy(site)
        target = copied
        for key in path[:-1]:
            target = target[key]
        target[path[-1]] = value
        return copied

    yield "no format", {key: site[key] for key in site if key != "format"}
    yield "another format", change(["format"], "amptally-site/9")
    yield "an unknown field", change(["panle"], {})
    yield "an unknown battery", change(["battery", "kind"], "nickel")
    yield "a list for a quantity", change(["battery", "capacity"], [7])
    yield "loads that are no list", change(["loads"], {})


def main():
    program, examples = sys.argv[1], sys.argv[2:]
    schema = json.loads(subprocess.check_output([program, "schema"]))
    jsonschema.Draft7Validator.check_schema(schema)
    validator = jsonschema.Draft7Validator(schema)

    faults = 0
    sites = {"the starter": subprocess.check_output([program, "new"], text=True)}
    for example in examples:
        with open(example, encoding="utf-8") as file:
            sites[example] = file.read()
    for name, text in sites.items():
        for error in validator.iter_errors(json.loads(without_comments(text))):
            faults += 1
            print(f"{name}: {list(error.path)}: {error.message}")

    starter = json.loads(without_comments(sites["the starter"]))
    for mistake, site in spoilt(starter):
        if validator.is_valid(site):
            faults += 1
            print(f"the schema lets pass: {mistake}")
    print(f"{len(sites)} sites tried, {faults} faults")
    return 1 if faults else 0


sys.exit(main())
